using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;

namespace Secondpass.Job.Shown;

/// <summary>Something drawn on a film, as the page shows it.</summary>
/// <param name="Figures">Its figures in words.</param>
/// <param name="Curve">The curve of an outline, [x, y] in pixels; empty for everything else.</param>
/// <param name="Diameter">The two ends of an outline's largest diameter; empty for everything else.</param>
public sealed record ShownDrawing(IReadOnlyList<ShownFigure> Figures, IReadOnlyList<double[]> Curve, IReadOnlyList<double[]> Diameter)
{
    /// <summary>What was measured, as the page shows it.</summary>
    public static ShownDrawing Of(DrawnResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return new ShownDrawing([.. result.Figures.Select(ShownFigure.Of)], Rows(result.Curve), Rows(result.Diameter));
    }

    internal static double[][] Rows(IReadOnlyList<PixelPoint> points) => [.. points.Select(point => new[] { Shown(point.X), Shown(point.Y) })];

    private static double Shown(double pixels) => Math.Round(pixels, 2, MidpointRounding.AwayFromZero);
}

/// <summary>One figure in words.</summary>
/// <param name="Words">The figure with its interval.</param>
/// <param name="Owed">What the interval is owed to.</param>
public sealed record ShownFigure(string Words, string Owed)
{
    internal static ShownFigure Of(DrawnFigure figure) => new(DrawnWords.Line(figure), DrawnWords.Owed(figure));
}
