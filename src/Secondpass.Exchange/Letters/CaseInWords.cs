using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Quantities;

namespace Secondpass.Exchange.Letters;

/// <summary>Single facts of a case in the words of a letter.</summary>
internal static class CaseInWords
{
    public static string Date(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    public static string DateAndTime(DateTimeOffset local) => local.ToString("d MMMM yyyy 'at' HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A number as it was entered, without digits that nobody entered.</summary>
    public static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    /// <summary>A length as it was read, at least to a tenth.</summary>
    public static string Length(Millimetres length) => length.Value.ToString("0.0###", CultureInfo.InvariantCulture) + " mm";

    /// <summary>Names in a row, such as "MB1, MB2 and P".</summary>
    public static string List(IEnumerable<string> names)
    {
        var all = names.ToList();
        return all.Count < 2 ? string.Concat(all) : $"{string.Join(", ", all.SkipLast(1))} and {all[^1]}";
    }

    /// <summary>A sentence with one full stop at its end; empty stays empty.</summary>
    public static string Sentence(string? text)
    {
        var trimmed = (text ?? string.Empty).Trim();
        return trimmed.Length == 0 || trimmed[^1] is '.' or '!' or '?' or '”' ? trimmed : trimmed + ".";
    }

    public static string Upper(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>Text in which nothing stands for nothing: empty and blank are null.</summary>
    public static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    /// <summary>A canal within a sentence: its name, and "the canal" where the tooth has one.</summary>
    public static string Canal(string name) => name == ExpectedCanals.OnlyCanal ? ExpectedCanals.CanalInWords(name) : name;

    /// <summary>How a sentence about the restoration goes on, such as " by the referring practice, no later than 8 December 2026."; null where nothing is noted of it.</summary>
    public static string? Restoration(FinishNote finish)
    {
        var who = Said(finish.RestorationBy) is { } by ? $" by {by.TrimEnd('.')}" : string.Empty;
        var until = finish.RestorationUntil is { } day ? $"{(who.Length > 0 ? "," : string.Empty)} no later than {Date(day)}" : string.Empty;
        return who.Length + until.Length > 0 ? $"{who}{until}." : null;
    }

    public static string Filling(OldFilling filling) => filling switch
    {
        OldFilling.Unknown => "material not known",
        OldFilling.GuttaPercha => "gutta-percha with sealer",
        OldFilling.SingleCone => "a single loose cone",
        OldFilling.CarrierBased => "gutta-percha on a carrier",
        OldFilling.SilverPoint => "a silver point",
        OldFilling.HardPaste => "a hard-set paste",
        OldFilling.SoftPaste => "a soft paste",
        _ => throw new ArgumentOutOfRangeException(nameof(filling), filling, "No such filling."),
    };

    public static string Pulpal(PulpalDiagnosis diagnosis) => diagnosis switch
    {
        PulpalDiagnosis.PreviouslyTreated => "previously treated",
        PulpalDiagnosis.PreviouslyInitiated => "previously initiated therapy",
        PulpalDiagnosis.Necrosis => "pulp necrosis",
        PulpalDiagnosis.SymptomaticIrreversible => "symptomatic irreversible pulpitis",
        PulpalDiagnosis.AsymptomaticIrreversible => "asymptomatic irreversible pulpitis",
        PulpalDiagnosis.Reversible => "reversible pulpitis",
        PulpalDiagnosis.Normal => "normal pulp",
        _ => throw new ArgumentOutOfRangeException(nameof(diagnosis), diagnosis, "No such diagnosis."),
    };

    /// <summary>The diagnosis at the apex; null when there is none yet.</summary>
    public static string? Apical(ApicalDiagnosis diagnosis) => diagnosis switch
    {
        ApicalDiagnosis.NotYet => null,
        ApicalDiagnosis.Normal => "normal apical tissues",
        ApicalDiagnosis.SymptomaticPeriodontitis => "symptomatic apical periodontitis",
        ApicalDiagnosis.AsymptomaticPeriodontitis => "asymptomatic apical periodontitis",
        ApicalDiagnosis.AcuteAbscess => "acute apical abscess",
        ApicalDiagnosis.ChronicAbscess => "chronic apical abscess",
        ApicalDiagnosis.CondensingOsteitis => "condensing osteitis",
        _ => throw new ArgumentOutOfRangeException(nameof(diagnosis), diagnosis, "No such diagnosis."),
    };

    /// <summary>How a canal stood before, for a cell of a table.</summary>
    public static string Before(CanalRecord canal)
    {
        var end = canal.FillingEndToCanalEnd is { } distance
            ? distance.Value switch
            {
                > 0 => $"{Length(distance)} short",
                < 0 => $"{Length(new Millimetres(-distance.Value))} beyond",
                _ => "to the end",
            }
            : null;
        return canal.Filling switch
        {
            CanalFilling.Unfilled => "none",
            CanalFilling.Filled => end is null ? "adequate length" : $"adequate, {end}",
            CanalFilling.ShortOfEnd => end ?? "short",
            CanalFilling.BeyondEnd => end ?? "beyond the end",
            CanalFilling.NotJudged => end ?? "not judged",
            _ => throw new ArgumentOutOfRangeException(nameof(canal), canal.Filling, "No such filling."),
        };
    }

    public static string Obstacle(Obstacle obstacle) => obstacle switch
    {
        Domain.Cases.Obstacle.Ledge => "a ledge",
        Domain.Cases.Obstacle.SeparatedInstrument => "a separated instrument",
        Domain.Cases.Obstacle.Blockage => "a blockage",
        Domain.Cases.Obstacle.Perforation => "a perforation",
        Domain.Cases.Obstacle.Post => "a post",
        _ => throw new ArgumentOutOfRangeException(nameof(obstacle), obstacle, "No such obstacle."),
    };

    public static string Plane(MeetingPlane plane) => plane switch
    {
        MeetingPlane.Unknown => string.Empty,
        MeetingPlane.Mesiodistal => ", side by side mesiodistally",
        MeetingPlane.Buccolingual => ", one behind the other buccolingually",
        _ => throw new ArgumentOutOfRangeException(nameof(plane), plane, "No such plane."),
    };

    /// <summary>An irrigant as used, such as "sodium hypochlorite 3 %, 20 ml, 15 min, ultrasonically activated".</summary>
    public static string Irrigant(IrrigantUse use)
    {
        string?[] parts =
        [
            use.Name.Trim() + (use.ConcentrationPercent is { } percent ? $" {Number(percent)} %" : string.Empty),
            use.Millilitres is { } volume ? $"{Number(volume)} ml" : null,
            use.Minutes is { } minutes ? $"{Number(minutes)} min" : null,
            Said(use.Activation),
        ];
        return string.Join(", ", parts.OfType<string>());
    }

    /// <summary>An event in a sentence for a colleague.</summary>
    public static string Event(EventHappened happened, LetterFacts facts)
    {
        var where = happened.Canal is { } canal ? $"In {Canal(canal)}, " : string.Empty;
        var what = happened.Event switch
        {
            ProceduralEvent.FileStops => "the file stopped short",
            ProceduralEvent.Ledge => "a ledge was met",
            ProceduralEvent.SeparatedInstrument => "an instrument separated",
            ProceduralEvent.PerforationSuspected => "a perforation was suspected",
            ProceduralEvent.BeyondApex => "filling or irrigant went beyond the apex",
            ProceduralEvent.Other => "something else happened",
            _ => throw new ArgumentOutOfRangeException(nameof(happened), happened.Event, "No such event."),
        };
        var fragment = happened.FragmentLength is { } length ? $"; the fragment is {Length(length)} long" : string.Empty;
        var level = happened.FromReference is { } reading ? $"; level {Length(reading.Length)} from the {reading.From.Name}" : string.Empty;
        var told = Said(happened.ToldTo) is { } who
            ? $" Told: {who}{(happened.ToldAt is { } at ? $", {DateAndTime(facts.Local(at))}" : string.Empty)}."
            : string.Empty;
        var note = Said(happened.Note) is { } said ? " " + Sentence(Upper(said)) : string.Empty;
        return Upper($"{where}{what}{fragment}{level}.") + note + told;
    }

    /// <summary>What the eye saw, such as "MB1: filling on the palatal wall at 15.0 mm".</summary>
    public static string Seen(SeenByEye seen)
    {
        var wall = Said(seen.Wall) is { } side ? $" on the {side} wall" : string.Empty;
        var level = seen.FromReference is { } at ? $" at {Length(at)}" : string.Empty;
        return $"{Canal(seen.Canal)}: {(seen.FillingSeen ? "filling seen" : "no filling seen")}{wall}{level}";
    }
}
