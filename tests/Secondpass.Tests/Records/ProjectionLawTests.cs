using CsCheck;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Clinics;
using Secondpass.Records;
using Secondpass.Records.Events;

namespace Secondpass.Tests.Records;

public sealed class ProjectionLawsOnSqliteTests() : ProjectionLawTests(StoreKind.Sqlite);

public sealed class ProjectionLawsOnPostgresTests() : ProjectionLawTests(StoreKind.Postgres);

public abstract class ProjectionLawTests(StoreKind kind) : IDisposable
{
    private static readonly Author Ann = new("Ann", "workbench");

    private readonly StoreUnderTest place = new(kind);

    public void Dispose()
    {
        place.Dispose();
        GC.SuppressFinalize(this);
    }

    // One store grows through all of them: the law holds at any time.
    [Fact]
    public void Tables_rebuilt_from_the_events_are_those_that_were_kept_along_the_way()
    {
        using var store = place.Open();
        Gen.Int.Sample(
            seed =>
            {
                Live(store, new RandomEvents(seed));
                var before = Tables(store);
                foreach (var table in (string[])["event_kinds", "kept_comparisons", "case_lines", "case_files", "instrument_uses"])
                {
                    place.Execute($"DELETE FROM {table}");
                }

                Assert.Equal(store.Check().Value.Events, store.Rebuild().Value);
                Assert.Equal(before, Tables(store));
            },
            iter: 12,
            threads: 1);

        Assert.Null(store.Check().Value.FirstBroken);
        Assert.NotEmpty(store.Cases.List());
        Assert.NotEmpty(store.KeptComparisons());
    }

    // A day in the life of a clinic, in any order.
    private void Live(ClinicStore store, RandomEvents random)
    {
        for (var step = 0; step < 25; step++)
        {
            place.Clock.Now += TimeSpan.FromSeconds(1);
            var cases = store.Cases.List();
            var any = cases.Count == 0 ? null : cases[random.Below(cases.Count)];
            switch (random.Below(12))
            {
                case 0 or 1:
                    var opened = (CaseOpened)random.Of(typeof(CaseOpened));
                    Assert.True(store.Cases.Open(opened with { Patient = opened.Patient with { Number = FormattableString.Invariant($"patient {random.Below(8)}") } }, Ann).IsGiven);
                    break;
                case 2 when any is not null && random.Below(3) == 0:
                    Assert.True(store.Cases.ForgetPatient(any.PatientNumber, Ann).IsGiven);
                    break;
                case 2 when any is not null:
                    var number = FormattableString.Invariant($"patient {random.Below(8)}");
                    var corrected = store.Cases.CorrectPatient(any.Id, any.Version, Ann, new PatientCorrected(new Patient(number, null), "typed wrongly"));
                    Assert.True(corrected.IsGiven || corrected.Refusal.Code == "patient_has_other_cases");
                    break;
                case 3:
                    var film = store.KeepFilm([(byte)random.Below(256)]).Value;
                    Assert.True(store.KeepComparison("label", film, film, "{}", "{}", "sheet"u8).IsGiven);
                    break;
                case 4 when store.KeptComparisons() is { Count: > 1 } kept:
                    Assert.True(store.RemoveComparison(kept[random.Below(kept.Count)].Id).Value);
                    break;
                case 5:
                    Assert.True(store.Clinic.Append(store.Clinic.Read().Version, Ann, [random.One<ClinicEvent>(_ => true)]).IsGiven);
                    break;
                case 6 or 7 or 8 when any is not null:
                    var entry = random.One<ChairsideEntry>(_ => true);
                    Assert.True(store.Cases.AppendEntry(any.Id, new EntryKey("chair", place.Clock.Now.UtcTicks), Ann, entry).IsGiven);
                    break;
                default:
                    if (any is not null)
                    {
                        Assert.True(store.Cases.Append(any.Id, any.Version, Ann, [random.One<CaseEvent>(type => type != typeof(CaseOpened) && type != typeof(PatientCorrected))]).IsGiven);
                    }

                    break;
            }
        }
    }

    private string Tables(ClinicStore store) => string.Join(
        '\n',
        [
            .. store.Cases.List().Select(line => line.ToString()),
            .. store.KeptComparisons().Select(kept => kept.ToString()),
            .. place.Column<string>("SELECT kind || ' ' || kind_version FROM event_kinds ORDER BY 1"),
            .. place.Column<string>("SELECT id || ' ' || patient_key || ' ' || version || ' ' || entries FROM case_lines ORDER BY 1"),
            .. place.Column<string>("SELECT case_id || ' ' || sha256 FROM case_files ORDER BY 1"),
            .. place.Column<string>("SELECT case_id || ' ' || entry || ' ' || item || ' ' || visit || ' ' || canal FROM instrument_uses ORDER BY 1"),
        ]);
}
