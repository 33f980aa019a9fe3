using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Plans;
using Secondpass.Job.Cases;
using Secondpass.Job.Chairside;

namespace Secondpass.App.Pages.Cases;

/// <summary>What was noted, in a few words.</summary>
internal static class CaseNoteWords
{
    /// <summary>One note.</summary>
    public static string Of(CaseNote note, TimeProvider time) => note.Event switch
    {
        CaseOpened opened => $"case opened for patient {InWords(opened.Patient)}, {opened.Tooth.Words}",
        ReferralChanged changed => $"referral entered anew{Changes(note.Before?.Referral, changed.Referral)}",
        PatientCorrected corrected => $"patient corrected: {InWords(corrected.Patient)}, not {InWords(note.Before!.Patient)} ({corrected.Reason})",
        ToothCorrected corrected => $"tooth corrected: {corrected.Tooth.Words} ({corrected.Tooth}), not {note.Before!.Tooth.Words} ({note.Before.Tooth}); {corrected.Reason}{(note.Before.Plan is null ? "" : "; the plan in use was dropped")}",
        HealthAnswered health => $"{HealthLine.InFewWords(health.Question)}: {(health.Answer.Yes ? "yes" : "no")}",
        PaperAttached paper => $"paper “{paper.File.Name}” attached",
        ToothAssessed => "tooth assessed",
        CanalsNoted { Canals: [{ Name: ExpectedCanals.OnlyCanal }] } => "one canal noted",
        CanalsNoted canals => $"canals noted: {string.Join(", ", canals.Canals.Select(canal => canal.Name))}",
        ConeBeamRead => "cone-beam scan read",
        FilmCalibrated { Known: var known } => $"a film’s scale taken from a known length of {known.LengthInWords}",
        FilmCalibrationTakenBack => "a film’s scale from a known length taken back",
        FilmMeasured => "canals measured on a film",
        MeasurementDrawn drawn => $"“{drawn.Measurement.Name}” drawn on a film",
        MeasurementChanged changed => NameOf(note, changed.Measurement.Number) is { } before && before != changed.Measurement.Name
            ? $"“{before}” on a film renamed to “{changed.Measurement.Name}”"
            : $"“{changed.Measurement.Name}” on a film drawn anew",
        MeasurementRemoved removed => $"“{NameOf(note, removed.Number)}” removed from a film",
        FilmStraightened => "a photograph of a film straightened",
        MeasurementPutBack back => $"“{NameOf(note, back.Number)}” put back on a film",
        ParallaxRead parallax => $"{parallax.Reading.Thing} compared on two films",
        ReferencePointLost lost => $"reference point “{lost.Name}” lost: {lost.Reason}",
        FilmAttached { Film.Origin: { WhyAttached: { } why } origin } => $"film “{origin.FileName}” attached, because “{why}”. {string.Join(" ", origin.Confirmed)}",
        FilmAttached { Film.Origin: { } origin } => $"film “{origin.FileName}” attached",
        FilmAttached => "film attached",
        FilmDated { Day: { } day } => $"a film dated {day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)}",
        FilmDated => "the date entered for a film taken back",
        PhotographAttached photograph => $"photograph “{photograph.Photograph.Caption}” attached",
        ComparisonAttached => "what is left kept with the case",
        PlanChosen plan => $"plan “{plan.Plan.Name}” chosen",
        ChairsideEntry entry => ChairsideHistory.Of(entry, note.Before?.Chairside ?? [], time.LocalTimeZone),
        FinishNoted finish => $"finish note, visit {finish.Visit}",
        LetterMade => "letter made",
        _ => "something else noted",
    };

    private static string? NameOf(CaseNote note, int number) =>
        note.Before?.Drawn.Concat(note.Before.DrawnRemoved).FirstOrDefault(one => one.Number == number)?.Name;

    private static string InWords(Patient patient) => string.Join(", ", ((string?[])
        [patient.Number, patient.Name, patient.Born?.ToString("'born' d MMMM yyyy", CultureInfo.InvariantCulture)]).Where(part => part is not null));

    private static string Changes(Referral? before, Referral after)
    {
        (string What, string? Old, string? New)[] lines =
        [
            ("sent by", before?.Referrer ?? "nobody", after.Referrer ?? "nobody"),
            ("practice", before?.Practice, after.Practice),
            ("reason", before?.Reason, after.Reason),
            ("what is asked", before?.Question, after.Question),
        ];
        var changed = lines.Where(line => line.Old != line.New).Select(line => $"; {line.What}: {line.New ?? "nothing"}, not {line.Old ?? "nothing"}");
        return before is null ? string.Empty : string.Concat(changed);
    }
}
