using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Letters;

/// <summary>What a letter is assembled from.</summary>
/// <param name="Case">The case.</param>
/// <param name="From">The clinic that writes.</param>
/// <param name="Date">The day that stands on the letter.</param>
/// <param name="Zone">Time zone of the clinic, in which days and times of the visit are told.</param>
/// <param name="Films">The films before and after with what is left; null when none were compared.</param>
public sealed record LetterFacts(DentalCase Case, ClinicDetails From, DateOnly Date, TimeZoneInfo Zone, LetterFilms? Films)
{
    /// <summary>Numbers of the visits that something was noted of, in order.</summary>
    public IReadOnlyList<int> Visits { get; } =
        [.. ChairsideRecord.Read(Case.Chairside).Select(entry => entry.Holds).OfType<ChairsideEntry>().Select(entry => entry.Visit).Concat(Case.Finishes.Keys).Distinct().Order()];

    /// <summary>Everything noted at the chair that holds, visit by visit.</summary>
    public IReadOnlyList<ChairsideEntry> Entries => [.. Visits.SelectMany(visit => ChairsideRecord.OfVisit(Case.Chairside, visit))];

    /// <summary>The last finish note; null when there is none.</summary>
    public FinishNote? LastFinish => Case.Finishes.Count == 0 ? null : Case.Finishes[Case.Finishes.Keys.Max()];

    /// <summary>The day of a visit by its first entry; null when nothing was noted at the chair.</summary>
    /// <param name="visit">Number of the visit.</param>
    public DateOnly? DayOf(int visit) =>
        ChairsideRecord.OfVisit(Case.Chairside, visit) is [var first, ..] ? DateOnly.FromDateTime(Local(first.At).DateTime) : null;

    /// <summary>How a canal was finished, by the last note that names it; null when none does.</summary>
    /// <param name="canal">The canal.</param>
    public CanalFinish? FinishOf(string canal) => Case.Finishes
        .OrderByDescending(finish => finish.Key)
        .Select(finish => finish.Value.Canals.FirstOrDefault(line => line.Canal == canal))
        .FirstOrDefault(line => line is not null);

    /// <summary>A moment as the clinic's clock on the wall shows it.</summary>
    /// <param name="at">The moment.</param>
    public DateTimeOffset Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, Zone);
}

/// <summary>Films before and after with what is left.</summary>
/// <param name="Request">The films and their scale.</param>
/// <param name="Comparison">What is left.</param>
/// <param name="BothAngles">What they say together with films of the same visit from another angle, in a sentence; null when they stand alone.</param>
public sealed record LetterFilms(ComparisonRequest Request, Comparison Comparison, string? BothAngles = null);

/// <summary>A letter as it will be made.</summary>
/// <param name="Draft">Its text.</param>
/// <param name="Facts">What its tables and pictures come from.</param>
public sealed record LetterContent(LetterDraft Draft, LetterFacts Facts);

/// <summary>A letter, made.</summary>
/// <param name="Pdf">A tagged PDF with its fonts embedded.</param>
/// <param name="Docx">The same for a word processor.</param>
/// <param name="Text">Its text without pictures.</param>
public sealed record Letter(byte[] Pdf, byte[] Docx, string Text);
