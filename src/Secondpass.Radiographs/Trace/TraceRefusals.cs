using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Trace;

/// <summary>Everything that tracing can refuse, in the words that the dentist reads.</summary>
internal static class TraceRefusals
{
    public static Refusal TooFewMarks(CanalClicks clicks) => new(
        "trace_too_short",
        string.Create(CultureInfo.InvariantCulture, $"The trace of {clicks.Name} has {Counted(clicks.Pins.Count)}; a canal needs at least two, orifice and end."),
        "Mark the orifice and the end of the canal.",
        new Dictionary<string, double> { ["marks"] = clicks.Pins.Count });

    public static Refusal OutsideFilm(CanalClicks clicks, PixelPoint place, Radiograph film) => new(
        "mark_outside_film",
        string.Create(
            CultureInfo.InvariantCulture,
            $"The trace of {clicks.Name} has a mark at ({place.X:0.#}, {place.Y:0.#}), outside the film of {film.Width} × {film.Height} pixels."),
        "Set the mark on the film; if the trace was made on another film, load that one.",
        new Dictionary<string, double> { ["x"] = Finite(place.X), ["y"] = Finite(place.Y) });

    public static Refusal MarksTogether(CanalClicks clicks, double distancePixels) => new(
        "marks_too_close",
        string.Create(CultureInfo.InvariantCulture, $"Orifice and end of {clicks.Name} are {distancePixels:0.#} pixels apart; a canal is at least 15 pixels long."),
        "Mark the orifice at the top of the canal and the end at its apex.",
        new Dictionary<string, double> { ["distance_px"] = distancePixels });

    public static Refusal AwayFromTrunk(CanalClicks branch, string trunk, double distancePixels) => new(
        "branch_off_trunk",
        string.Create(CultureInfo.InvariantCulture, $"The branch {branch.Name} starts {distancePixels:0.#} pixels away from {trunk}; it must start on it (within 20 pixels)."),
        $"Start the branch {branch.Name} at the place where it leaves {trunk}.",
        new Dictionary<string, double> { ["distance_px"] = distancePixels });

    public static Refusal NamedTwice(string name) => new(
        "name_used_twice",
        $"Two canals are named {name}.",
        "Give each canal and branch of the tooth its own name.");

    private static string Counted(int marks) => marks switch
    {
        0 => "no mark",
        1 => "one mark",
        _ => marks.ToString(CultureInfo.InvariantCulture) + " marks",
    };

    private static double Finite(double value) => double.IsFinite(value) ? value : -1;
}
