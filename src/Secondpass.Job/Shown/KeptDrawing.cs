using System.Text.Json;
using Secondpass.Domain.Films;
using Secondpass.Job.Documents;
using Secondpass.Radiographs.Draw;

namespace Secondpass.Job.Shown;

/// <summary>A kept measurement as the page's script paints it and takes it up again.</summary>
/// <param name="Number">Its number in the case.</param>
/// <param name="Name">Its name.</param>
/// <param name="Drawing">What was drawn.</param>
/// <param name="Curve">The curve of an outline, [x, y] in pixels; empty for everything else.</param>
public sealed record KeptDrawing(int Number, string Name, DrawingDocument Drawing, IReadOnlyList<double[]> Curve)
{
    private static readonly JsonSerializerOptions Json = new(DocumentJson.Options) { TypeInfoResolver = new System.Text.Json.Serialization.Metadata.DefaultJsonTypeInfoResolver() };

    /// <summary>All kept measurements of a film, as JSON.</summary>
    public static string AsJson(IEnumerable<DrawnMeasurement> drawn) => JsonSerializer.Serialize(drawn.Select(Of), Json);

    private static KeptDrawing Of(DrawnMeasurement one) => new(
        one.Number,
        one.Name,
        DrawingDocument.Of(one),
        one.Shape.Kind == DrawnKind.Lesion ? ShownDrawing.Rows(DrawnMeasurer.Curve(one.Shape.Points)) : []);
}
