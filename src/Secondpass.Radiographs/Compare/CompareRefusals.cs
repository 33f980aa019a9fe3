using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Compare;

/// <summary>Everything that a comparison can refuse, in the words that the dentist reads.</summary>
internal static class CompareRefusals
{
    private const string MarkOrRetake = "Check that both films show the same tooth. If they do, mark two or more points that you see on both, or take the comparison from a film at nearly the same angle that exists already.";

    public static Refusal NoCanal() => new(
        "no_canal",
        "No canal is marked on the film before.",
        "Mark each canal with two clicks on the film before: orifice and end.");

    public static Refusal FromPhotograph(string films) => new(
        "film_from_photograph",
        $"{films} straightened from a photograph. What is left is read off greys, and those of a photograph went through a light box that may shine unevenly and a camera that bends greys from place to place: no single curve brings them onto those of another film.",
        "Look at the two beside each other and measure lengths on each; for what is left, use two films as they came from the sensor.");

    public static Refusal OneLandmark() => new(
        "one_landmark",
        "Only one point is marked on both films; it takes at least two.",
        "Mark a second point that you see on both films, as far from the first as you can.");

    public static Refusal LandmarkOutside(PixelPoint place, string film) => new(
        "landmark_outside_film",
        string.Create(CultureInfo.InvariantCulture, $"A marked point at ({place.X:0.#}, {place.Y:0.#}) lies outside the film {film}."),
        "Set the point again on the film.");

    public static Refusal DifferentTooth(double likeness) => new(
        "films_do_not_match",
        string.Create(CultureInfo.InvariantCulture, $"The two films can't be laid over each other: around the canals they are alike to {likeness:0.00} where 1 is the same and other teeth reach about 0.4."),
        MarkOrRetake,
        new Dictionary<string, double> { ["likeness"] = likeness });

    public static Refusal TooLittleShared(double shared) => new(
        "too_little_shared",
        string.Create(CultureInfo.InvariantCulture, $"The film after shows only {100 * shared:0} % of the tooth's surroundings on the film before; it takes at least 60 %."),
        "Use a film that shows the same roots, or compare another pair.",
        new Dictionary<string, double> { ["shared_percent"] = 100 * shared });

    public static Refusal Distorted(double evenness, double factor) => new(
        "too_much_change_of_angle",
        string.Create(CultureInfo.InvariantCulture, $"To fit, the film after would have to be stretched to {100 / Math.Max(evenness, 0.01):0} % in one direction and resized to {100 * factor:0} %: the angle changed too much."),
        MarkOrRetake,
        new Dictionary<string, double> { ["evenness"] = evenness, ["size_factor"] = factor });

    public static Refusal Mirrored() => new(
        "film_mirrored",
        "The film after looks like a mirror image of the film before.",
        "Turn one of the films over in the program that exported it, and check left and right on both before you go on.");

    public static Refusal StateHides(string branch, AfterState state) => new(
        "state_hides_residue",
        state switch
        {
            AfterState.InstrumentIn => $"An instrument stands in {branch} on the film after: it can't be told from filling.",
            AfterState.Dressing => $"A dressing stands in {branch} on the film after: it can't be told from filling.",
            _ => $"{branch} was filled again on the film after: old and new filling can't be told apart.",
        },
        "To see what is left, compare with a film taken while the canal was empty, if there is one.");

    public static Refusal NothingBefore(string branch) => new(
        "no_filling_before",
        $"No filling is seen in {branch} on the film before, so nothing can be left of it.",
        "Check the marks of this canal; if the canal is unfilled, leave it out of the comparison.");

    public static Refusal NotShown(string branch) => new(
        "branch_not_shown",
        $"The film after doesn't show {branch}.",
        "Use a film that shows the whole canal.");

    public static Refusal MissedItself(string branch) => new(
        "branch_not_found",
        $"The root around {branch} wasn't found again on the film after.",
        MarkOrRetake);
}
