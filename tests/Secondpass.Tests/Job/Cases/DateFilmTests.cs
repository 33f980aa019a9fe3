using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Shown;
using Secondpass.Tests.Job.Incoming;
using Secondpass.Tests.Radiographs.Identify;

namespace Secondpass.Tests.Job.Cases;

public sealed class DateFilmTests : IDisposable
{
    private const string Round = """{"schema":1,"kind":"lesion","points_px":[[30,20],[36,26],[30,32],[24,26]],"pixel_spacing_mm":0.03}""";

    private readonly CaseDesk desk = new();
    private readonly DateFilm dating;
    private DentalCase it;

    public DateFilmTests()
    {
        dating = new DateFilm(desk.Store, desk.Clock);
        it = desk.Open();
    }

    public void Dispose() => desk.Dispose();

    [Fact]
    public void A_lesion_that_grew_is_not_told_to_shrink_because_the_older_film_was_attached_last()
    {
        Attach(NamedFilm.Of(date: "20260202", shade: 1));
        Attach(NamedFilm.Of(date: "20250101", shade: 2));
        Draw(0, Round.Replace("36,26", "46,26", StringComparison.Ordinal));
        Draw(1, Round);

        var change = Assert.Single(new ExportMeasurements(desk.Store, desk.Shelf).Document(it.Id).Value.Changes);
        Assert.Equal((it.Films[1].Sha256, it.Films[0].Sha256, true), (change.BeforeSha256, change.AfterSha256, change.OrderKnown));
        Assert.True(change.AreaChangeMm2 > 0);
    }

    [Fact]
    public void Without_a_date_both_sizes_are_said_and_no_direction_until_the_date_is_entered()
    {
        Attach(NamedFilm.Of(date: "20260202", shade: 1));
        Attach(NamedFilm.Of(shade: 2));
        Draw(0, Round.Replace("36,26", "46,26", StringComparison.Ordinal));
        Draw(1, Round);

        var words = Assert.Single(ShownLesionChange.Of(it, _ => false)).Sentences;
        Assert.Equal("Which film is earlier isn’t known: give its date. Until then nothing is told of larger or smaller.", words[^1]);
        Assert.DoesNotContain("larger by", string.Join(' ', words), StringComparison.Ordinal);
        Assert.DoesNotContain("smaller by", string.Join(' ', words), StringComparison.Ordinal);
        var export = new ExportMeasurements(desk.Store, desk.Shelf);
        var change = Assert.Single(export.Document(it.Id).Value.Changes);
        Assert.Equal((false, words[^1], null, false), (change.OrderKnown, change.WhyNoChange, change.AreaChangeMm2, change.AreaChangeTold));

        it = dating.Enter(it.Id, it.Version, it.Films[1].Sha256, "2025-01-01", CaseDesk.Anna).Value;

        Assert.Equal(it.Films[1].Sha256, Assert.Single(ShownLesionChange.Of(it, _ => false)).Before.FilmSha256);
        Assert.Equal([("2026-02-02", false), ("2025-01-01", true)], export.Document(it.Id).Value.Films.Select(film => (film.TakenOn, film.TakenOnEntered)));
    }

    [Theory]
    [InlineData("last year", "not_a_day", "The film’s date: “last year” is not a day that can be.")]
    [InlineData("2026-02-30", "not_a_day", "The film’s date: “2026-02-30” is not a day that can be.")]
    [InlineData("2999-01-01", "day_to_come", "The film’s date: “2999-01-01” is still to come.")]
    public void A_date_that_can_t_be_is_refused_quoting_it(string typed, string code, string reason)
    {
        Attach(NamedFilm.Of(shade: 1));

        var refusal = dating.Enter(it.Id, it.Version, it.Films[0].Sha256, typed, CaseDesk.Anna).Refusal;

        Assert.Equal((code, reason), (refusal.Code, refusal.Reason));
        Assert.Null(desk.Store.Cases.Read(it.Id).Value.Films[0].Taken);
    }

    [Fact]
    public void A_date_given_with_files_counts_for_those_that_say_none()
    {
        var taken = FilmsDesk.Before with { On = new DateOnly(2024, 5, 6) };
        var ready = desk.Films.TakeIn([new SentFile("a.dcm", NamedFilm.Of(date: "20260202", shade: 1)), new SentFile("b.dcm", NamedFilm.Of(shade: 2))]).Value;

        it = desk.Films.Attach(it.Id, it.Version, ready, taken, Confirmation.None, CaseDesk.Anna).Value;

        Assert.Equal([null, new DateOnly(2024, 5, 6)], it.Films.Select(film => film.DayEntered));
    }

    [Fact]
    public void Of_many_files_every_one_that_can_t_be_read_is_named_and_the_others_lie_ready()
    {
        var taken = desk.Films.TakeInEach([new SentFile("a.dcm", NamedFilm.Of(shade: 1)), new SentFile("b.txt", "no film"u8.ToArray()), new SentFile("c.txt", "none either"u8.ToArray())]);

        Assert.Equal("a.dcm", Assert.Single(taken.Ready).Name);
        Assert.Contains("“b.txt”: ", taken.Refused!.Reason, StringComparison.Ordinal);
        Assert.Contains("“c.txt”: ", taken.Refused.Reason, StringComparison.Ordinal);
        Assert.EndsWith("Nothing is attached yet: 1 of 3 can be read and lie ready; attach them below.", taken.Refused.Reason, StringComparison.Ordinal);
    }

    private void Attach(byte[] file) =>
        it = desk.Films.Attach(it.Id, it.Version, desk.Films.TakeIn([new SentFile("film.dcm", file)]).Value, FilmsDesk.Before, Confirmation.None, CaseDesk.Anna).Value;

    private void Draw(int film, string drawing) => it = desk.Drawing.Keep(it.Id, it.Version, it.Films[film].Sha256, null, "lesion", drawing, CaseDesk.Anna).Value;
}
