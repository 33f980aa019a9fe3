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

    [Theory]
    [InlineData(FilmMoment.Before)]
    [InlineData(FilmMoment.Recall)]
    public void An_older_film_that_was_attached_last_is_the_earlier_one_by_its_date_whatever_its_moment(FilmMoment moment)
    {
        var change = Assert.Single(LesionChange.Of(Case(
            [Film("new", FilmMoment.Before, "2026-03-04"), Film("old", moment, "2025-01-01")],
            Lesion(1, "new", "lesion", 5.2),
            Lesion(2, "old", "lesion", 2.5))));

        Assert.Equal(("old", "new"), (change.Before.FilmSha256, change.After.FilmSha256));
        Assert.True(change.IsOrderKnown);
        Assert.Equal(2.7, change.AreaSquareMillimetres.Value, 1e-9);
    }

    [Theory]
    [InlineData(null, null)]
    [InlineData("2026-03-04", null)]
    [InlineData("2026-03-04", "2026-03-04")]
    [InlineData("2026-03-04", "2026-03-04 09:30")]
    public void Of_two_films_of_one_moment_neither_is_earlier_where_no_date_tells_it(string? one, string? other) => Assert.False(Assert.Single(LesionChange.Of(Case(
        [Film("a", FilmMoment.Before, one), Film("b", FilmMoment.Before, other)],
        Lesion(1, "a", "lesion", 5.2),
        Lesion(2, "b", "lesion", 2.5)))).IsOrderKnown);

    [Fact]
    public void Of_two_films_of_one_day_the_time_tells_which_is_earlier() => Assert.Equal("morning", Assert.Single(LesionChange.Of(Case(
        [Film("noon", FilmMoment.Before, "2026-03-04 12:00"), Film("morning", FilmMoment.Before, "2026-03-04 09:30")],
        Lesion(1, "noon", "lesion", 5.2),
        Lesion(2, "morning", "lesion", 2.5)))).Before.FilmSha256);

    [Fact]
    public void A_date_that_was_entered_goes_before_the_one_the_file_says_and_can_be_taken_back()
    {
        var it = Case([Film("a", FilmMoment.Before, "2025-01-01"), Film("b", FilmMoment.Before, "2026-01-01")], Lesion(1, "a", "lesion", 12), Lesion(2, "b", "lesion", 8));
        var dated = it.With(new FilmDated("a", new DateOnly(2026, 5, 6)));

        Assert.Equal("b", Assert.Single(LesionChange.Of(dated)).Before.FilmSha256);
        Assert.Equal("a", Assert.Single(LesionChange.Of(dated.With(new FilmDated("a", null)))).Before.FilmSha256);
    }

    [Fact]
    public void A_film_without_a_date_does_not_tear_two_apart_that_have_one()
    {
        var changes = LesionChange.Of(Case(
            [Film("a", FilmMoment.Before, "2025-01-01"), Film("undated", FilmMoment.Before, null), Film("c", FilmMoment.Before, "2026-01-01")],
            Lesion(1, "a", "lesion", 12),
            Lesion(2, "undated", "lesion", 8),
            Lesion(3, "c", "lesion", 10)));

        Assert.Equal([("a", "c", true), ("c", "undated", false)], changes.Select(change => (change.Before.FilmSha256, change.After.FilmSha256, change.IsOrderKnown)));
    }

    [Fact]
    public void Where_dates_and_moments_contradict_each_other_all_around_only_dates_count()
    {
        var changes = LesionChange.Of(Case(
            [Film("a", FilmMoment.Before, "2026-01-01"), Film("undated", FilmMoment.During, null), Film("c", FilmMoment.Recall, "2025-01-01")],
            Lesion(1, "a", "lesion", 12),
            Lesion(2, "undated", "lesion", 8),
            Lesion(3, "c", "lesion", 10)));

        Assert.Equal(("c", "a"), changes.Where(change => change.IsOrderKnown).Select(change => (change.Before.FilmSha256, change.After.FilmSha256)).Single());
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

    private static CaseFilm Film(string sha256, FilmMoment moment, string? taken) => new(sha256, moment, TubeShift.Straight, null)
    {
        Origin = new FilmOrigin(
            sha256,
            StatedIdentity.None with { TakenAt = taken is null ? null : DateTime.Parse(taken, System.Globalization.CultureInfo.InvariantCulture) },
            [],
            null),
    };

    private static DentalCase Case(IReadOnlyList<(string Film, FilmMoment Moment)> films, params IReadOnlyList<DrawnMeasurement> drawn) =>
        Case([.. films.Select(film => new CaseFilm(film.Film, film.Moment, TubeShift.Straight, null))], drawn);

    private static DentalCase Case(IReadOnlyList<CaseFilm> films, params IReadOnlyList<DrawnMeasurement> drawn) => DentalCase.From(
        new CaseId("c"),
        [
            new CaseOpened(new Patient("1", null), ToothNumber.Parse("16").Value, new Referral(null, null, "Pain", null, false, null)),
            .. films.Select(film => new FilmAttached(film)),
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
