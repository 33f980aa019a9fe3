using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Tests.Radiographs.Straighten;

namespace Secondpass.Tests.Job.Cases;

public sealed class StraightenFilmTests : IDisposable
{
    private const string Marks = "[[60,760],[640,60],[700,850],[120,90]]";

    private readonly CaseDesk desk = new();
    private readonly CaseId id;
    private readonly string photograph;

    public StraightenFilmTests()
    {
        var it = desk.Open();
        id = it.Id;
        var ready = desk.Films.TakeIn([new SentFile("old.png", PhotographOfFilm.File())]).Value;
        photograph = desk.Films.Attach(id, it.Version, ready, new FilmTaken(FilmMoment.Before, TubeShift.Mesial), Confirmation.None, CaseDesk.Anna).Value.Films[0].Sha256;
    }

    private DentalCase Now => desk.Store.Cases.Read(id).Value;

    public void Dispose() => desk.Dispose();

    [Fact]
    public void The_straightened_film_lies_beside_the_photograph_which_stays_as_it_was()
    {
        Assert.True(desk.Straightening.Straighten(id, Now.Version, photograph, Marks, "2", null, null, CaseDesk.Anna).IsGiven);

        var it = Now;
        var made = Assert.Single(it.Straightened);
        Assert.Equal([photograph, made.FilmSha256], it.Films.Select(film => film.Sha256));
        Assert.Equal((FilmMoment.Before, TubeShift.Mesial), (it.Films[1].Moment, it.Films[1].Shift));
        Assert.Equal((photograph, 31.0, 41.0), (made.Photographed.PhotographSha256, made.Photographed.Width.Value, made.Photographed.Height.Value));
        Assert.Equal(PhotographOfFilm.Corners, made.Photographed.Corners);
        Assert.Equal(PhotographOfFilm.File(), desk.Store.ReadFilm(photograph).Value.ToArray());
        Assert.NotNull(desk.Shelf.Find(made.FilmSha256).Value.Photographed);
    }

    [Fact]
    public void Other_marks_make_another_film_and_the_same_marks_are_refused()
    {
        desk.Straightening.Straighten(id, Now.Version, photograph, Marks, "2", null, null, CaseDesk.Anna);

        Assert.Equal("straightened_alike", desk.Straightening.Straighten(id, Now.Version, photograph, Marks, "other", "41", "31,0", CaseDesk.Anna).Refusal.Code);
        Assert.True(desk.Straightening.Straighten(id, Now.Version, photograph, Marks.Replace("850", "848", StringComparison.Ordinal), "2", null, null, CaseDesk.Anna).IsGiven);
        Assert.Equal(2, Now.Straightened.Count);
    }

    [Theory]
    [InlineData(Marks, "other", "31", null, "no_film_size")]
    [InlineData(Marks, "other", "31", "wide", "not_a_number")]
    [InlineData("[[1,2]]", "2", null, null, "not_four_corners")]
    [InlineData("no marks", "2", null, null, "not_four_corners")]
    [InlineData(null, "2", null, null, "not_four_corners")]
    public void What_is_missing_is_said_and_nothing_is_noted(string? marks, string size, string? one, string? other, string code)
    {
        Assert.Equal(code, desk.Straightening.Straighten(id, Now.Version, photograph, marks, size, one, other, CaseDesk.Anna).Refusal.Code);
        Assert.Single(Now.Films);
    }
}
