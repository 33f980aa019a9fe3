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
}
