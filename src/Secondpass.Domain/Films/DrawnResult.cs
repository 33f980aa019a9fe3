namespace Secondpass.Domain.Films;

/// <summary>What was read off something drawn, with what is to be shown of it.</summary>
/// <param name="Figures">The figures.</param>
/// <param name="Scale">The scale used; null where none was needed.</param>
/// <param name="Curve">The curve of an outline, point by point; empty for everything else.</param>
/// <param name="Diameter">The two ends of an outline's largest diameter; empty for everything else.</param>
public sealed record DrawnResult(IReadOnlyList<DrawnFigure> Figures, DrawnScale? Scale, IReadOnlyList<PixelPoint> Curve, IReadOnlyList<PixelPoint> Diameter);
