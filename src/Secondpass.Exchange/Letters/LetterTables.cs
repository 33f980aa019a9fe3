using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Letters;

/// <summary>A table of a letter.</summary>
/// <param name="Caption">What it shows.</param>
/// <param name="Rows">Rows of cells; the first row and the first cell of each row are headings.</param>
/// <param name="Shares">Share of the width that each column takes; they sum to 1.</param>
internal sealed record LetterTable(string Caption, IReadOnlyList<IReadOnlyList<string>> Rows, IReadOnlyList<double> Shares);

/// <summary>The tables of a reply, straight from what was stored.</summary>
internal static class LetterTables
{
    private static readonly VisitPhase[] Told = [VisitPhase.Access, VisitPhase.ToLength, VisitPhase.Removal, VisitPhase.Shaping, VisitPhase.Chair];

    /// <summary>Minutes, one row for each visit that something was marked in; null when nothing was.</summary>
    public static LetterTable? Minutes(LetterFacts facts)
    {
        var rows = facts.Visits
            .Select(visit => (Visit: visit, Minutes: VisitMinutes.Of(facts.Case.Chairside, visit)))
            .Where(one => one.Minutes.Phases.Any(phase => phase.ElapsedMinutes is not null))
            .Select(one => (IReadOnlyList<string>)[facts.DayOf(one.Visit) is { } day ? CaseInWords.Date(day) : $"Visit {one.Visit}", .. Told.Select(phase => MinutesWords.Cell(one.Minutes[phase]))])
            .ToList();
        return rows.Count == 0 ? null : new LetterTable(
            "Minutes hands-on, in brackets by the clock. Filling to length and removal complete both count from the first touch of filling.",
            [["Visit", .. Told.Select(MinutesWords.Name)], .. rows],
            [0.19, 0.21, 0.16, 0.17, 0.13, 0.14]);
    }

    /// <summary>Canals, one row each; null when none are noted.</summary>
    public static LetterTable? Canals(LetterFacts facts)
    {
        var rows = facts.Case.Canals.Where(canal => canal.Found || canal.Intent == CanalIntent.LeaveAlone).Select(canal => Row(canal, facts)).ToList();
        return rows.Count == 0 ? null : new LetterTable(
            "Working lengths as read from the reference point named.",
            [["Canal", "Old filling", "Removal, min", "Working length", "Master apical file", "New filling"], .. rows],
            [0.08, 0.17, 0.12, 0.29, 0.16, 0.18]);
    }

    private static IReadOnlyList<string> Row(CanalRecord canal, LetterFacts facts)
    {
        if (canal.Intent == CanalIntent.LeaveAlone)
        {
            return [canal.Name, CaseInWords.Before(canal), "–", "not treated again", "–", "–"];
        }

        var finish = facts.FinishOf(canal.Name);
        var length = finish?.WorkingLength is { } working
            ? CaseInWords.Length(working) + (CaseInWords.Said(finish.ReferencePoint) is { } point ? $", {point}" : string.Empty)
            : "–";
        var filling = string.Join(", ", new[] { finish?.MasterCone, finish?.Method }.Select(CaseInWords.Said).OfType<string>());
        return [canal.Name, CaseInWords.Before(canal), RemovalMinutes(canal.Name, facts), length, CaseInWords.Said(finish?.MasterApicalFile) ?? "–", filling.Length > 0 ? filling : "–"];
    }

    // The last visit in which the canal's old filling was worked on and its removal marked complete.
    private static string RemovalMinutes(string canal, LetterFacts facts) => facts.Visits
        .Select(visit => VisitMinutes.OfCanal(facts.Case.Chairside, visit, canal)[VisitPhase.Removal])
        .Where(removal => removal.ElapsedMinutes is not null)
        .Select(MinutesWords.Cell)
        .LastOrDefault("–");
}
