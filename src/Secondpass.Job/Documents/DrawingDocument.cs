using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization.Metadata;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Documents;

/// <summary>What a person drew on a film.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Kind">What it is.</param>
/// <param name="PointsPx">Its points.</param>
/// <param name="TrueLengthMm">The true length of an instrument.</param>
/// <param name="PixelSpacingMm">The scale entered.</param>
[Description("What a person drew on a film, to be measured.")]
public sealed record DrawingDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("length: two points; angle: three, the second its corner; angle_of_lines: two lines of two points; lesion: a closed outline; known_length: an instrument from tip to stop."), Words(typeof(DrawnKind))] string Kind,
    [property: Description("Its points in pixels of the film, in the order in which they were set."), Columns("x, pixels", "y, pixels")] IReadOnlyList<double[]> PointsPx,
    [property: Description("The true length of a known length, in mm; null for everything else.")] double? TrueLengthMm = null,
    [property: Description("Size of a pixel in mm; null: as the film's file states it.")] double? PixelSpacingMm = null)
{
    /// <summary>Reads a drawing.</summary>
    /// <param name="bytes">JSON text in UTF-8, of the shape that docs/schema/drawing.schema.json describes.</param>
    /// <returns>The drawing; or the first thing wrong with it, with line and column.</returns>
    public static Answer<DrawingDocument> Read(ReadOnlyMemory<byte> bytes)
    {
        if (!PlacedJson.Read(bytes).TryGet(out var json, out var refusal) || !DocumentShape.Check(json, typeof(DrawingDocument)).TryGet(out _, out refusal))
        {
            return refusal;
        }

        return json.Deserialize((JsonTypeInfo<DrawingDocument>)DocumentJson.Options.GetTypeInfo(typeof(DrawingDocument)));
    }

    /// <summary>The drawing that a kept measurement was made of.</summary>
    public static DrawingDocument Of(DrawnMeasurement measurement)
    {
        ArgumentNullException.ThrowIfNull(measurement);
        var shape = measurement.Shape;
        return new DrawingDocument(
            1,
            EnumWords.Of(shape.Kind),
            [.. shape.Points.Select(point => new[] { Rounded.Pixels(point.X), Rounded.Pixels(point.Y) })],
            shape.TrueLength?.Value,
            measurement.Scale is { Source: CalibrationSource.Entered } scale ? scale.MillimetresPerPixel : null);
    }

    /// <summary>What it draws.</summary>
    internal DrawnShape Shape => new(
        EnumWords.TryRead<DrawnKind>(Kind, out var kind) ? kind : throw new InvalidOperationException("Its words were checked."),
        [.. PointsPx.Select(point => new PixelPoint(point[0], point[1]))],
        TrueLengthMm is { } length ? new Millimetres(length) : null);
}
