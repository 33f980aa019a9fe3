using System.Globalization;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Anatomy;

/// <summary>How curved a canal is after Schneider 1971: one of his three classes, or between two of them.</summary>
/// <remarks>His classes leave gaps (5–10° and 20–25°); an angle in a gap belongs to none and is said so.</remarks>
/// <param name="Name">straight, moderate or severe; null when the angle falls in none.</param>
/// <param name="InWords">The class or the gap in words, with the angle as given.</param>
public sealed record CurvatureClass(string? Name, string InWords)
{
    /// <summary>The class of an angle.</summary>
    /// <param name="schneider">The angle after Schneider, zero or more.</param>
    public static CurvatureClass Of(Degrees schneider)
    {
        var angle = schneider.Value;
        var (straight, moderate, severe) = (CurvatureFacts.Straight.Range!.Value, CurvatureFacts.Moderate.Range!.Value, CurvatureFacts.Severe.Range!.Value);
        var (name, words) = angle switch
        {
            _ when angle <= straight.High => ("straight", $"straight ({straight.High:0}° or less)"),
            _ when angle < moderate.Low => (null, $"between straight ({straight.High:0}° or less) and moderate ({moderate.Low:0}–{moderate.High:0}°), in neither class"),
            _ when angle <= moderate.High => ("moderate", $"moderate ({moderate.Low:0}–{moderate.High:0}°)"),
            _ when angle < severe.Low => (null, $"between moderate ({moderate.Low:0}–{moderate.High:0}°) and severe ({severe.Low:0}–{severe.High:0}°), in neither class"),
            _ when angle <= severe.High => ("severe", $"severe ({severe.Low:0}–{severe.High:0}°)"),
            _ => ((string?)null, $"beyond severe ({severe.Low:0}–{severe.High:0}°)"),
        };
        return new CurvatureClass(name, string.Create(CultureInfo.InvariantCulture, $"{angle:0.#}° after Schneider: {words}"));
    }
}
