using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Draw;

/// <summary>Everything that drawing on a film can refuse, in the words that the dentist reads.</summary>
internal static class DrawRefusals
{
    public static Refusal NumberOfPoints(DrawnShape shape, int needed) => new(
        "drawing_incomplete",
        string.Create(CultureInfo.InvariantCulture, $"{What(shape.Kind)} has {needed} points; {shape.Points.Count} {(shape.Points.Count == 1 ? "is" : "are")} set."),
        "Set its points on the film.",
        new Dictionary<string, double> { ["points"] = shape.Points.Count });

    public static Refusal TooFewOfOutline(int count) => new(
        "outline_too_short",
        string.Create(CultureInfo.InvariantCulture, $"The outline has {count} {(count == 1 ? "point that lies" : "points that lie")} apart; it needs at least three."),
        "Go on clicking along the lesion's edge, all the way round.",
        new Dictionary<string, double> { ["points"] = count });

    public static Refusal TooManyOfOutline(int count) => new(
        "outline_too_long",
        string.Create(CultureInfo.InvariantCulture, $"The outline has {count} points; at most {DrawnOnFilms.GreatestPointCount.Value} are taken."),
        "Set fewer points: the curve runs smoothly from one to the next.",
        new Dictionary<string, double> { ["points"] = count });

    public static Refusal OutsideFilm(PixelPoint place, Radiograph film) => new(
        "point_outside_film",
        string.Create(CultureInfo.InvariantCulture, $"A point at ({place.X:0.#}, {place.Y:0.#}) lies outside the film of {film.Width} × {film.Height} pixels."),
        "Set the point on the film.",
        new Dictionary<string, double> { ["x"] = Finite(place.X), ["y"] = Finite(place.Y) });

    public static Refusal TooClose(double distancePixels, double leastPixels) => new(
        "points_too_close",
        string.Create(CultureInfo.InvariantCulture, $"Two points are {distancePixels:0.#} pixels apart; where a click falls is uncertain by {leastPixels:0.#} pixels between two."),
        "Look at it larger and set the two points again, or measure something longer.",
        new Dictionary<string, double> { ["distance_px"] = distancePixels });

    public static Refusal TooNarrow(double widthPixels, double leastPixels) => new(
        "outline_too_narrow",
        string.Create(CultureInfo.InvariantCulture, $"The outline is {widthPixels:0.#} pixels wide; where a click falls is uncertain by {leastPixels:0.#} pixels between two."),
        "Look at it larger and outline it again, or measure its length only.",
        new Dictionary<string, double> { ["width_px"] = widthPixels });

    public static Refusal CrossesItself(int one, int other, int count) => new(
        "outline_crosses_itself",
        string.Create(CultureInfo.InvariantCulture, $"The outline crosses itself: its side from point {one + 1} to {((one + 1) % count) + 1} meets the one from point {other + 1} to {((other + 1) % count) + 1}."),
        "Move one of these points, or take points back, so that it runs round the lesion once.",
        new Dictionary<string, double> { ["side"] = one + 1, ["other_side"] = other + 1 });

    public static Refusal NoScale() => new(
        "no_scale",
        "This film has no scale, so nothing can be told in millimetres.",
        "Enter the size of one pixel from the sensor's papers, or take a known length on the film as its scale. Angles need none.");

    public static Refusal NoTrueLength() => new(
        "no_true_length",
        "The true length of the instrument is not said.",
        "Enter it in mm, from the tip to the stop.");

    public static Refusal ImplausibleTrueLength(double millimetres) => new(
        "implausible_true_length",
        string.Create(CultureInfo.InvariantCulture, $"An instrument of {millimetres:0.##} mm from tip to stop can't be on an intra-oral film ({Foreshortened.LeastMillimetres:0} to {Foreshortened.GreatestMillimetres:0} mm)."),
        "Enter the length from the tip to the stop, in mm.",
        new Dictionary<string, double> { ["true_length_mm"] = Finite(millimetres) });

    public static Refusal SeenTooLong(double seenMillimetres, double trueMillimetres) => new(
        "seen_longer_than_magnified",
        string.Create(CultureInfo.InvariantCulture, $"The instrument is seen {seenMillimetres:0.0} mm long and is {trueMillimetres:0.0} mm: {100 * ((seenMillimetres / trueMillimetres) - 1):0} % longer, and a film magnifies by {100 * (DrawnOnFilms.LargestMagnification.Value - 1):0} % at most."),
        "Check the typed length, the two ends, and the film's scale.",
        new Dictionary<string, double> { ["seen_mm"] = seenMillimetres, ["true_mm"] = trueMillimetres });

    public static Refusal AngleAbsurd(double degrees, double seenMillimetres, double trueMillimetres) => new(
        "angle_to_film_absurd",
        string.Create(CultureInfo.InvariantCulture, $"The instrument is seen {seenMillimetres:0.0} mm long and is {trueMillimetres:0.0} mm: it would lie at {degrees:0}° to the film, more than the {DrawnOnFilms.LargestForeshortening.Value:0}° that are taken as likely."),
        "Check the typed length and the two ends: the tip, and the stop's lower edge.",
        new Dictionary<string, double> { ["angle_deg"] = degrees, ["seen_mm"] = seenMillimetres, ["true_mm"] = trueMillimetres });

    public static Refusal OtherDirection(string name, double degrees) => new(
        "other_direction",
        string.Create(CultureInfo.InvariantCulture, $"“{name}” turns {degrees:0}° from the instrument, more than the {DrawnOnFilms.SameDirection.Value:0}° within which it is foreshortened alike."),
        "Correct only what runs along the instrument.",
        new Dictionary<string, double> { ["turned_deg"] = degrees });

    private static string What(DrawnKind kind) => kind switch
    {
        DrawnKind.Length => "A length",
        DrawnKind.Angle => "An angle",
        DrawnKind.AngleOfLines => "An angle between two lines",
        DrawnKind.Lesion => "A lesion's outline",
        _ => "A known length",
    };

    private static double Finite(double value) => double.IsFinite(value) ? value : -1;
}
