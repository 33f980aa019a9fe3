using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>Classes of canal curvature after Schneider, with the gaps that he left between them.</summary>
public static class CurvatureFacts
{
    private const string Source = "Schneider, Oral Surg Oral Med Oral Pathol 1971;32:271–275: 29 teeth classified as straight (5° or less), moderate (10–20°) and severe (25–70°)";

    /// <summary>Straight canals.</summary>
    public static Sourced<double> Straight { get; } = new("Angle after Schneider of a straight canal, at most", 5, "degrees", new Interval(0, 5), Source, Standing.Published);

    /// <summary>Moderately curved canals.</summary>
    public static Sourced<double> Moderate { get; } = new("Angle after Schneider of a moderately curved canal (middle)", 15, "degrees", new Interval(10, 20), Source, Standing.Published);

    /// <summary>Severely curved canals.</summary>
    public static Sourced<double> Severe { get; } = new("Angle after Schneider of a severely curved canal (middle)", 47.5, "degrees", new Interval(25, 70), Source, Standing.Published);
}
