using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;

namespace Secondpass.Job.Documents;

/// <summary>A case file as read and checked: the tooth, the scales and the canals marked on the film before.</summary>
/// <remarks>Not a <see cref="CaseDocument"/>, which is the text's shape: here every word, number and mark has been checked.</remarks>
/// <param name="Tooth">The tooth; null when it was not said.</param>
/// <param name="BeforeScale">Scale of the film before; null leaves it to the film's own file.</param>
/// <param name="AfterScale">Scale of the film after where it is known to differ.</param>
/// <param name="AfterState">What stands in the canals on the film after; null when the file doesn't say.</param>
/// <param name="AfterStateOfBranch">Branches, by name, where something else stands.</param>
/// <param name="Canals">The canals.</param>
public sealed record MarkedCase(
    ToothNumber? Tooth,
    Calibration? BeforeScale,
    Calibration? AfterScale,
    AfterState? AfterState,
    IReadOnlyDictionary<string, AfterState> AfterStateOfBranch,
    IReadOnlyList<CanalClicks> Canals)
{
    /// <summary>What stands for a case file where there is none: no canal is marked.</summary>
    public static MarkedCase WithoutCanals { get; } = new(null, null, null, Domain.Films.AfterState.Removed, new Dictionary<string, AfterState>(), []);

    /// <summary>Things marked on both films; empty, or at least two.</summary>
    public IReadOnlyList<LandmarkPair> Landmarks { get; init; } = [];

    /// <summary>An object of known length on the film before; null when none is marked.</summary>
    public KnownLength? KnownLength { get; init; }

    /// <summary>What is said for a plan.</summary>
    public CasePlanning Planning { get; init; } = CasePlanning.None;

    /// <summary>The same with the scale that a case has for the film before.</summary>
    /// <remarks>
    /// A known length that the case was told of goes before a pixel size typed beside the marks, which was typed before it. One that was taken
    /// back there counts nowhere any more, wherever it stands.
    /// </remarks>
    /// <param name="it">The case.</param>
    /// <param name="filmSha256">The film before.</param>
    public MarkedCase WithScaleOf(DentalCase it, string filmSha256)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.KnownLengths.TryGetValue(filmSha256, out var known) ? this with { BeforeScale = known is null ? BeforeScale : null, KnownLength = known } : this;
    }

    /// <summary>Why the marks can't belong to a film: the first that lies outside it, or null when all lie on it.</summary>
    /// <param name="before">The film before.</param>
    public Refusal? WhyNotOn(Radiograph before)
    {
        ArgumentNullException.ThrowIfNull(before);
        foreach (var canal in Canals.SelectMany(canal => canal.SelfAndBelow()))
        {
            for (var i = 0; i < canal.Pins.Count; i++)
            {
                var at = canal.Pins[i].At;
                if (!before.Holds(at))
                {
                    return new Refusal(
                        "mark_outside_film",
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"Mark {i + 1} of {canal.Name}, [{at.X}, {at.Y}], lies outside the film before, which has {before.Width} × {before.Height} pixels."),
                        "Give marks in pixels of the film before: [0, 0] is the centre of its top left pixel, x runs right, y runs down.",
                        new Dictionary<string, double> { ["x_px"] = at.X, ["y_px"] = at.Y, ["width_px"] = before.Width, ["height_px"] = before.Height });
                }
            }
        }

        return null;
    }
}
