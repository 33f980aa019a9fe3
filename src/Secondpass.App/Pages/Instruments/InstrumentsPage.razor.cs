using System.Globalization;
using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Job.Instruments;

namespace Secondpass.App.Pages.Instruments;

/// <summary>The clinic's instruments: stock with uses, sequences, ultrasonic unit, solvent, limits, kinds with their makers' ranges.</summary>
public sealed partial class InstrumentsPage
{
    [SupplyParameterFromForm]
    private InstrumentsForm? Form { get; set; }

    [CascadingParameter]
    private HttpContext Http { get; set; } = default!;

    [Inject]
    private KeepInstruments Instruments { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    private Clinic Clinic { get; set; } = default!;

    private Refusal? Refused { get; set; }

    private IReadOnlyList<InstrumentItem> InStock => [.. Clinic.Items.Where(item => !item.Retired)];

    private IReadOnlyList<(InstrumentItem Item, string Question)> Asked =>
        [.. InStock.Select(item => (item, item.AskAfterwards(KindOf(item.KindCode)))).Where(asked => asked.Item2 is not null).Select(asked => (asked.item, asked.Item2!))];

    private bool IsNewSequenceTyped => Typing("sequence") is { } typed && Clinic.Sequences.All(sequence => sequence.Name != typed.SequenceName);

    private IEnumerable<(string Field, string Label, string Unit, string? Value, ISourced Fact)> LimitFields
    {
        get
        {
            var (typed, limits) = (Typing("limits"), Clinic.Limits);
            yield return (nameof(InstrumentsForm.WallLeft), "Wall left at least", "mm", typed is null ? N(limits.LeastWallLeft.Value) : typed.WallLeft, WallFacts.LeastWallLeft);
            yield return (nameof(InstrumentsForm.LossPerSide), "Dentine cut on a side at most", "mm", typed is null ? N(limits.GreatestLossPerSide.Value) : typed.LossPerSide, WallFacts.GreatestLossPerSide);
            yield return (nameof(InstrumentsForm.Concavity), "Off a film's wall towards the furcation", "mm", typed is null ? N(limits.ConcavityAllowance.Value) : typed.Concavity, WallFacts.ConcavityAllowance);
            yield return (nameof(InstrumentsForm.Attempts), "Attempts at an obstacle", "", typed is null ? N(limits.Attempts) : typed.Attempts, PlanFacts.Attempts);
            yield return (nameof(InstrumentsForm.LedgeMinutes), "Minutes at a ledge or blockage", "min", typed is null ? N(limits.LedgeMinutes) : typed.LedgeMinutes, PlanFacts.LedgeMinutes);
            yield return (nameof(InstrumentsForm.WithdrawalMinutes), "Minutes at a fragment, silver point, carrier or cone", "min", typed is null ? N(limits.WithdrawalMinutes) : typed.WithdrawalMinutes, PlanFacts.WithdrawalMinutes);
        }
    }

    private IEnumerable<(string Field, string Label, string Unit, string? Value)> KindFields
    {
        get
        {
            var typed = Typing("kind");
            yield return (nameof(InstrumentsForm.TipSize), "Tip size", "ISO, such as 30", typed?.TipSize);
            yield return (nameof(InstrumentsForm.Taper), "Taper", "such as 0.06", typed?.Taper);
            yield return (nameof(InstrumentsForm.CuttingLength), "Cutting part", "mm", typed?.CuttingLength);
            yield return (nameof(InstrumentsForm.GreatestDiameter), "Greatest diameter", "mm", typed?.GreatestDiameter);
            yield return (nameof(InstrumentsForm.LowRpm), "Least speed", "rpm, the maker's", typed?.LowRpm);
            yield return (nameof(InstrumentsForm.HighRpm), "Greatest speed", "rpm, the maker's", typed?.HighRpm);
            yield return (nameof(InstrumentsForm.Torque), "Torque limit", "N·cm, the maker's", typed?.Torque);
            yield return (nameof(InstrumentsForm.UsesPermitted), "Uses permitted", "the maker's; 1 for single use", typed?.UsesPermitted);
            yield return (nameof(InstrumentsForm.Fitting), "Fits", "thread or chuck, as the unit's papers say", typed?.Fitting);
        }
    }

    private string CountedInWords => Clinic.UseCount switch
    {
        UseCount.PerToothAndVisit => "Uses are counted once per tooth and visit, by what is noted at the chair.",
        UseCount.PerCanal => "Uses are counted once per canal of a visit, by what is noted at the chair.",
        UseCount.SingleUse => "Each file is used once, on one tooth in one visit; other instruments as their kind permits.",
        _ => throw new InvalidOperationException($"{Clinic.UseCount} is not a way to count."),
    };

    /// <inheritdoc/>
    protected override void OnInitialized() => Clinic = Instruments.Read();

    private void Send()
    {
        if (Instruments.Note(Form!, ThisDesk.Writer(Http)).TryGet(out _, out var refusal))
        {
            Navigation.NavigateTo("/instruments");
        }
        else
        {
            Refused = refusal;
            Clinic = Instruments.Read();
        }
    }

    // What was typed into a form that came back refused.
    private InstrumentsForm? Typing(string which) => Refused is not null && Form?.Which == which ? Form : null;

    private InstrumentKind KindOf(string code) => Clinic.Kinds.First(kind => kind.Code == code);

    private int IndexOf(Sequence sequence) => Clinic.Sequences.ToList().IndexOf(sequence);

    private static List<SequenceLine> Lines(Sequence sequence) =>
        [.. sequence.Steps.Select(step => new SequenceLine { KindCode = step.KindCode, Rpm = step.SpeedRpm is { } rpm ? N(rpm) : null, Torque = step.TorqueNewtonCentimetres is { } torque ? N(torque) : null, Note = step.Note })];

    private static string Settings(SequenceStep step) => string.Join(
        ", ",
        ((string?[])[step.SpeedRpm is { } rpm ? $"{N(rpm)} rpm" : null, step.TorqueNewtonCentimetres is { } torque ? $"{N(torque)} N·cm" : null]).Where(said => said is not null));

    private static string NameOf(UseCount count) => count switch
    {
        UseCount.PerToothAndVisit => "Per tooth and visit.",
        UseCount.PerCanal => "Per canal.",
        UseCount.SingleUse => "Single use.",
        _ => throw new ArgumentOutOfRangeException(nameof(count), count, "Not a way to count."),
    };

    private static string ConsequenceOf(UseCount count) => count switch
    {
        UseCount.PerToothAndVisit => "Three canals of a molar in one visit are one use.",
        UseCount.PerCanal => "Three canals of a molar are three uses: an instrument is used up sooner.",
        UseCount.SingleUse => "A file is used up after one tooth in one visit, whatever its maker permits. Pluggers, micro-openers, forceps and extractor tubes stay as their kind says.",
        _ => throw new ArgumentOutOfRangeException(nameof(count), count, "Not a way to count."),
    };

    private static string Sign(InstrumentKind kind) => kind switch
    {
        { Taper: > 0 and var taper } => taper.ToString(".00", CultureInfo.InvariantCulture),
        { TipSize: { } size } => N(size),
        _ => "–",
    };

    private static string Ranges(InstrumentKind kind)
    {
        string?[] said =
        [
            kind.Speed is { } speed ? $"{N(speed.LowRpm)}–{N(speed.HighRpm)} rpm" : kind.Sort.Rotates() ? "speed not stated" : null,
            kind.TorqueNewtonCentimetres is { } torque ? $"{N(torque)} N·cm" : null,
            kind.UsesPermitted is { } uses ? uses == 1 ? "single use" : $"{N(uses)} uses" : null,
            kind.Sort == InstrumentSort.UltrasonicFile ? $"fits {kind.Fitting ?? "not stated"}" : null,
        ];
        return string.Join(" · ", said.Where(one => one is not null));
    }

    private static string Said(ISourced fact)
    {
        var value = fact.BoxedValue is IFormattable number ? number.ToString(null, CultureInfo.InvariantCulture) : fact.BoxedValue?.ToString() ?? "none";
        var unit = fact.Unit == "–" ? string.Empty : " " + fact.Unit;
        var standing = fact.Standing switch
        {
            Standing.FromMemory => "from memory: ",
            Standing.CommonPractice => "common practice, no source: ",
            Standing.OwnChoice => "own choice: ",
            _ => string.Empty,
        };
        return $"{fact.Name}: {value}{unit} ({standing}{fact.Source.TrimEnd('.')}).";
    }

    private static string N(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);
}
