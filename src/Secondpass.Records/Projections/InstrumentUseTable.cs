using System.Data.Common;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Instruments;
using Secondpass.Records.Databases;
using Secondpass.Records.Events;
using Secondpass.Records.Keys;

namespace Secondpass.Records.Projections;

/// <summary>Which instruments were used in which canal of which visit of which case. Says nothing of a patient, and outlives a forgotten one.</summary>
/// <remarks>A canal's name is typed by people, so it stands here as a number made from it under the patient's key; once the patient is forgotten, as 1, 2 …</remarks>
internal sealed class InstrumentUseTable : IProjection
{
    /// <inheritdoc/>
    public void Apply(Happening happening)
    {
        var (transaction, stored, happened, key) = happening;
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
        else if (happened is ChairsideEntry entry && key is not null && CaseTable.IdOf(stored) is { } id)
        {
            // The line of the case was brought up to date first, so it counts this entry already.
            var number = transaction.Number("SELECT entries FROM case_lines WHERE id = @case", ("@case", id));
            Apply(transaction, id, number, entry, key);
        }
    }

    /// <inheritdoc/>
    public void Clear(DbTransaction transaction) => transaction.Execute("DELETE FROM instrument_uses");

    /// <summary>How often an instrument was used: in how many visits of how many cases, or in how many canals of them.</summary>
    public static int Count(DbTransaction transaction, string item, UseCount count) => (int)transaction.Number(
        count == UseCount.PerCanal
            ? "SELECT count(*) FROM (SELECT DISTINCT case_id, visit, canal FROM instrument_uses WHERE item = @item) AS canals"
            : "SELECT count(*) FROM (SELECT DISTINCT case_id, visit FROM instrument_uses WHERE item = @item) AS visits",
        ("@item", item));

    /// <summary>What was used in a case, its canals numbered in the order of their first use.</summary>
    public static IReadOnlyList<InstrumentUse> Of(DbTransaction transaction, string caseId)
    {
        var uses = transaction.Rows(
            "SELECT case_id, entry, item, visit, canal FROM instrument_uses WHERE case_id = @case ORDER BY entry",
            row => new InstrumentUse(row.GetString(0), row.GetInt64(1), row.GetString(2), row.GetInt64(3), row.GetInt64(4)),
            ("@case", caseId));
        var canals = uses.Select(use => use.Canal).Distinct().ToList();
        return [.. uses.Select(use => use with { Canal = canals.IndexOf(use.Canal) + 1 })];
    }

    // An entry that was wrong doesn't count; what holds instead does, under the same number.
    private static void Apply(DbTransaction transaction, string caseId, long number, ChairsideEntry? entry, PatientKey key)
    {
        switch (entry)
        {
            case StepDone { ItemId: { } item } step:
                Insert(transaction, new InstrumentUse(caseId, number, item, step.Visit, key.Number("instrument_uses\n" + caseId, step.Canal)));
                break;
            case EntryCorrected corrected:
                transaction.Execute(
                    "DELETE FROM instrument_uses WHERE case_id = @case AND entry = @entry",
                    ("@case", caseId),
                    ("@entry", (long)corrected.EntryNumber));
                Apply(transaction, caseId, corrected.EntryNumber, corrected.Instead, key);
                break;
            default:
                break;
        }
    }

    private static void Insert(DbTransaction transaction, InstrumentUse use) => transaction.Execute(
        "INSERT INTO instrument_uses (case_id, entry, item, visit, canal) VALUES (@case, @entry, @item, @visit, @canal) ON CONFLICT (case_id, entry) DO UPDATE SET item = excluded.item, visit = excluded.visit, canal = excluded.canal",
        ("@case", use.CaseId),
        ("@entry", use.Entry),
        ("@item", use.Item),
        ("@visit", use.Visit),
        ("@canal", use.Canal));
}
