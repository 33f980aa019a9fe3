using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Straighten;

/// <summary>Everything that straightening a photograph can refuse, in the words that the dentist reads.</summary>
internal static class StraightenRefusals
{
    public static Refusal NotFour(int count) => new(
        "not_four_corners",
        string.Create(CultureInfo.InvariantCulture, $"A film has four corners; {count} {(count == 1 ? "is" : "are")} marked."),
        "Mark each corner once, where the film’s edges would meet.",
        new Dictionary<string, double> { ["marks"] = count });

    public static Refusal Outside(PixelPoint place, Radiograph photograph) => new(
        "corner_outside",
        string.Create(CultureInfo.InvariantCulture, $"A mark at ({place.X:0.#}, {place.Y:0.#}) lies outside the photograph of {photograph.Width} × {photograph.Height} pixels."),
        "Set the mark on the photograph.",
        new Dictionary<string, double> { ["x"] = Finite(place.X), ["y"] = Finite(place.Y) });

    public static Refusal TooClose(double pixels) => new(
        "corners_too_close",
        string.Create(CultureInfo.InvariantCulture, $"Two corners are marked {pixels:0} pixels apart; a side of a film needs at least {FilmReading.SmallestSide.Value}."),
        "Check the marks. If the film is really so small on the photograph, ask for a larger one.",
        new Dictionary<string, double> { ["distance_px"] = pixels });

    public static Refusal NotCorners(PixelPoint place, double degrees) => new(
        "not_corners",
        string.Create(
            CultureInfo.InvariantCulture,
            $"The four marks are not a film’s corners: at ({place.X:0}, {place.Y:0}) they make an angle of {degrees:0}°, and a corner is seen at {PhotographedFilms.LeastCorner.Value:0} to {180 - PhotographedFilms.LeastCorner.Value:0}°."),
        "Set one mark on each corner; no three of them lie nearly on a line, and none inside the others.",
        new Dictionary<string, double> { ["angle_deg"] = degrees });

    public static Refusal WrongSize(double seen, double stated) => new(
        "size_does_not_fit",
        string.Create(CultureInfo.InvariantCulture, $"The marked film is {seen:0.00} times as long as it is wide; a film of this size is {stated:0.00} times."),
        "Choose the film’s size anew, or set the marks on its corners.",
        new Dictionary<string, double> { ["seen_ratio"] = seen, ["stated_ratio"] = stated });

    public static Refusal SidesAlike(double seen) => new(
        "long_side_not_seen",
        string.Create(CultureInfo.InvariantCulture, $"Which side is the long one can’t be told: the marked sides are as 1 to {seen:0.00}."),
        "Use a photograph that was taken from straight above.",
        new Dictionary<string, double> { ["seen_ratio"] = seen });

    public static Refusal Implausible(double millimetres) => new(
        "implausible_film_size",
        string.Create(CultureInfo.InvariantCulture, $"An intra-oral film has no side of {millimetres:0.##} mm ({FilmStraightener.LeastSideMillimetres:0} to {FilmStraightener.GreatestSideMillimetres:0} mm)."),
        "Enter the film’s two sides in mm, edge to edge.",
        new Dictionary<string, double> { ["side_mm"] = Finite(millimetres) });

    public static Refusal Straightened() => new(
        "straightened_already",
        "This film was straightened from a photograph already.",
        "Straighten the photograph anew instead; it is among the films of the case.");

    private static double Finite(double value) => double.IsFinite(value) ? value : -1;
}
