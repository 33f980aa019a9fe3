using Secondpass.Job.Cases;
using Secondpass.Tests.Job.Incoming;
using Secondpass.Tests.Radiographs.Identify;

namespace Secondpass.Tests.Job.Cases;

public sealed class CompareForCaseTests : IDisposable
{
    private readonly CaseDesk desk = new();

    public void Dispose() => desk.Dispose();

    [Fact]
    public void A_comparison_with_a_film_of_another_patient_is_not_added_before_that_film_was_attached_with_a_reason()
    {
        var document = DemoFilm.CaseText(DemoFilm.Incisor);
        var it = desk.Open(DemoFilm.Case(DemoFilm.Incisor).Tooth!.Value.ToString());
        var before = desk.Store.KeepFilm(NamedFilm.Of("Bird^Anna", "4711", shade: 1)).Value;
        var ben = NamedFilm.Of("Finch^Ben", "4712", shade: 2);
        var after = desk.Store.KeepFilm(ben).Value;
        var kept = desk.Store.KeepComparison("a label", before, after, document, "{}", "sheet"u8).Value;
        var compare = new CompareForCase(desk.Store);

        var refusal = compare.Attach(it.Id.Value, kept.Id, CaseDesk.Anna).Refusal;
        Assert.Equal("The comparison was kept, and not added to the case. The film says patient number 4712, the case 4711.", refusal.Reason);
        Assert.Empty(desk.Store.Cases.Read(it.Id).Value.Comparisons);

        var ready = desk.Films.TakeIn([new SentFile("ben.dcm", ben)]).Value;
        Assert.True(desk.Films.Attach(it.Id, it.Version, ready, FilmsDesk.Before, new Confirmation(desk.Films.Differences(it, ready), "typed wrongly"), CaseDesk.Anna).IsGiven);
        it = compare.Attach(it.Id.Value, kept.Id, CaseDesk.Anna).Value;
        Assert.Single(it.Comparisons);
        Assert.Equal([after, before], it.Films.Select(film => film.Sha256));
        Assert.Equal("Bird, Anna", it.Films[1].Origin!.Stated.PatientName);
    }

    [Fact]
    public void Of_several_films_before_the_one_with_marked_canals_is_compared()
    {
        var it = desk.Open(DemoFilm.Case(DemoFilm.Incisor).Tooth!.Value.ToString());
        var first = desk.Films.TakeIn([new SentFile("first.png", DemoFilm.Before(DemoFilm.Molar))]).Value;
        it = desk.Films.Attach(it.Id, it.Version, first, FilmsDesk.Before, Confirmation.None, CaseDesk.Anna).Value;
        Assert.Equal(it.Films[0].Sha256, new CompareForCase(desk.Store).Films(it.Id.Value).Value.Before);

        var second = desk.Films.TakeIn([new SentFile("second.png", DemoFilm.Before(DemoFilm.Incisor))]).Value;
        it = desk.Films.Attach(it.Id, it.Version, second, FilmsDesk.Before, Confirmation.None, CaseDesk.Anna).Value;
        it = desk.Measuring.Note(it.Id, it.Version, it.Films[1].Sha256, DemoFilm.CaseText(DemoFilm.Incisor), CaseDesk.Anna).Value;

        var compared = new CompareForCase(desk.Store).Films(it.Id.Value).Value;
        Assert.Equal(it.Films[1].Sha256, compared.Before);
        Assert.Contains("trace_px", compared.Marks, StringComparison.Ordinal);
    }
}
