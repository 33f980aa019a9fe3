using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Tests.Domain.Cases;

public sealed class LesionChangeTests
{
    [Fact]
    public void A_lesion_of_one_name_on_two_films_is_held_against_itself_in_the_order_in_which_they_were_taken()
    {
        // The film at recall was attached first.
        var change = Assert.Single(LesionChange.Of(Case([("r", FilmMoment.Recall), ("b", FilmMoment.Before)], Lesion(1, "r", "lesion at MB", 8), Lesion(2, "b", "Lesion at MB", 12))));

        Assert.Equal(("b", "r"), (change.Before.FilmSha256, change.After.FilmSha256));
        Assert.Equal(-4, change.AreaSquareMillimetres.Value, 1e-9);

        // Errors of 0.6 from the hand and 0.8 from the scale on either film: 1 on each, √2 together.
        Assert.Equal(-4 - Math.Sqrt(2), change.AreaSquareMillimetres.Interval.Low, 1e-9);
        Assert.True(change.TellsArea);
    }

    [Fact]
    public void A_change_smaller_than_hand_and_scale_leave_open_can_t_be_told()
    {
        var change = Assert.Single(LesionChange.Of(Case([("b", FilmMoment.Before), ("r", FilmMoment.Recall)], Lesion(1, "b", "lesion", 12), Lesion(2, "r", "lesion", 11))));

        Assert.False(change.TellsArea);
        Assert.False(change.TellsDiameter);
    }

    [Fact]
    public void On_three_films_each_is_held_against_the_one_before() => Assert.Equal(
        [("b", "d"), ("d", "r")],
        LesionChange.Of(Case(
            [("b", FilmMoment.Before), ("d", FilmMoment.During), ("r", FilmMoment.Recall)],
            Lesion(1, "b", "lesion", 12),
            Lesion(2, "r", "lesion", 8),
            Lesion(3, "d", "lesion", 10))).Select(change => (change.Before.FilmSha256, change.After.FilmSha256)));

    [Fact]
    public void Lesions_of_other_names_lengths_and_what_was_removed_are_not_compared() => Assert.Empty(LesionChange.Of(
        Case(
            [("b", FilmMoment.Before), ("r", FilmMoment.Recall)],
            Lesion(1, "b", "mesial lesion", 12),
            Lesion(2, "r", "distal lesion", 8),
            Lesion(3, "b", "root", 12) with { Shape = new DrawnShape(DrawnKind.Length, [], null) },
            Lesion(4, "r", "root", 12) with { Shape = new DrawnShape(DrawnKind.Length, [], null) },
            Lesion(5, "r", "mesial lesion", 12)).With(new MeasurementRemoved(5))));

    private static DentalCase Case(IReadOnlyList<(string Film, FilmMoment Moment)> films, params IReadOnlyList<DrawnMeasurement> drawn) => DentalCase.From(
        new CaseId("c"),
        [
            new CaseOpened(new Patient("1", null), ToothNumber.Parse("16").Value, new Referral(null, null, "Pain", null, false, null)),
            .. films.Select(film => new FilmAttached(new CaseFilm(film.Film, film.Moment, TubeShift.Straight, null))),
            .. drawn.Select(one => new MeasurementDrawn(one)),
        ]);

    private static DrawnMeasurement Lesion(int number, string film, string name, double area) => new(
        number,
        name,
        film,
        new DrawnShape(DrawnKind.Lesion, [], null),
        new DrawnScale(0.03, CalibrationSource.File),
        [
            new DrawnFigure(DrawnQuantity.Area, Estimate.Within(area, 1), 0.6, 0.8),
            new DrawnFigure(DrawnQuantity.LargestDiameter, Estimate.Within(Math.Sqrt(area), 0.3), 0.2, 0.2),
        ]);
}
