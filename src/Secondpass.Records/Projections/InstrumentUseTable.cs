using System.Data.Common;
using Secondpass.Domain.Chairside;
using Secondpass.Records.Databases;
using Secondpass.Records.Events;

namespace Secondpass.Records.Projections;

/// <summary>Which instruments were used in which visit of which case. Says nothing of a patient, and outlives a forgotten one.</summary>
internal sealed class InstrumentUseTable : IProjection
{
    /// <inheritdoc/>
    public void Apply(Happening happening)
    {
        var (transaction, stored, happened, _) = happening;
        if (happened is PatientForgotten forgotten)
        {
            foreach (var id in forgotten.Cases)
            {
                transaction.Execute("DELETE FROM instrument_uses WHERE case_id = @case", ("@case", id));
            }

            foreach (var use in forgotten.Uses)
            {
                Insert(transaction, use);
            }
        }
        else if (happened is ChairsideEntry entry && CaseTable.IdOf(stored) is { } id)
        {
            // The line of the case was brought up to date first, so it counts this entry already.
            var number = transaction.Number("SELECT entries FROM case_lines WHERE id = @case", ("@case", id));
            Apply(transaction, id, number, entry);
        }
    }

    /// <inheritdoc/>
    public void Clear(DbTransaction transaction) => transaction.Execute("DELETE FROM instrument_uses");

    /// <summary>In how many visits of how many cases an instrument was used.</summary>
    public static int Count(DbTransaction transaction, string item) => (int)transaction.Number(
        "SELECT count(*) FROM (SELECT DISTINCT case_id, visit FROM instrument_uses WHERE item = @item) AS visits",
        ("@item", item));

    /// <summary>What was used in a case.</summary>
    public static IReadOnlyList<InstrumentUse> Of(DbTransaction transaction, string caseId) => transaction.Rows(
        "SELECT case_id, entry, item, visit FROM instrument_uses WHERE case_id = @case ORDER BY entry",
        row => new InstrumentUse(row.GetString(0), row.GetInt64(1), row.GetString(2), row.GetInt64(3)),
        ("@case", caseId));

    // An entry that was wrong doesn't count; what holds instead does, under the same number.
    private static void Apply(DbTransaction transaction, string caseId, long number, ChairsideEntry? entry)
    {
        switch (entry)
        {
            case StepDone { ItemId: { } item } step:
                Insert(transaction, new InstrumentUse(caseId, number, item, step.Visit));
                break;
            case EntryCorrected corrected:
                transaction.Execute(
                    "DELETE FROM instrument_uses WHERE case_id = @case AND entry = @entry",
                    ("@case", caseId),
                    ("@entry", (long)corrected.EntryNumber));
                Apply(transaction, caseId, corrected.EntryNumber, corrected.Instead);
                break;
            default:
                break;
        }
    }

    private static void Insert(DbTransaction transaction, InstrumentUse use) => transaction.Execute(
        "INSERT INTO instrument_uses (case_id, entry, item, visit) VALUES (@case, @entry, @item, @visit) ON CONFLICT (case_id, entry) DO UPDATE SET item = excluded.item, visit = excluded.visit",
        ("@case", use.CaseId),
        ("@entry", use.Entry),
        ("@item", use.Item),
        ("@visit", use.Visit));
}
