using Secondpass.Domain;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Cases;

namespace Secondpass.Job.Instruments;

/// <summary>What is being typed about the clinic's instruments; one form at a time is sent, and it says which.</summary>
public sealed class InstrumentsForm
{
    private List<SequenceLine>? steps;

    /// <summary>Which form was sent: a word of the page.</summary>
    public string? Which { get; set; }

    /// <summary>The version of the clinic that the page was filled from.</summary>
    public long Version { get; set; }

    /// <summary>An instrument in stock.</summary>
    public string? ItemId { get; set; }

    /// <summary>The kind of a new one.</summary>
    public string? KindCode { get; set; }

    /// <summary>Its position.</summary>
    public string? Position { get; set; }

    /// <summary>Uses that it had before.</summary>
    public string? UsesBefore { get; set; }

    /// <summary>Why it is taken out of use.</summary>
    public string? Reason { get; set; }

    /// <summary>The ultrasonic unit's name.</summary>
    public string? UnitName { get; set; }

    /// <summary>Its thread.</summary>
    public string? Thread { get; set; }

    /// <summary>Its chuck.</summary>
    public string? Chuck { get; set; }

    /// <summary>A sequence's name.</summary>
    public string? SequenceName { get; set; }

    /// <summary>Its steps; empty ones are left out.</summary>
    public List<SequenceLine> Steps
    {
        // A form without a line sets none.
        get => steps ??= [];
        set => steps = value;
    }

    /// <summary>The solvent preferred; nothing for none.</summary>
    public string? Solvent { get; set; }

    /// <summary>The clinic's rule about it.</summary>
    public string? SolventNote { get; set; }

    /// <summary>How uses are counted.</summary>
    public UseCount? UseCount { get; set; }

    /// <summary>Wall left at least.</summary>
    public string? WallLeft { get; set; }

    /// <summary>Dentine cut on a side at most.</summary>
    public string? LossPerSide { get; set; }

    /// <summary>Taken off a film's wall towards the furcation.</summary>
    public string? Concavity { get; set; }

    /// <summary>Attempts at an obstacle.</summary>
    public string? Attempts { get; set; }

    /// <summary>Minutes at a ledge.</summary>
    public string? LedgeMinutes { get; set; }

    /// <summary>Minutes at a withdrawal.</summary>
    public string? WithdrawalMinutes { get; set; }

    /// <summary>The name of a kind of the clinic's own.</summary>
    public string? KindName { get; set; }

    /// <summary>Its sort.</summary>
    public InstrumentSort? Sort { get; set; }

    /// <summary>Its tip size.</summary>
    public string? TipSize { get; set; }

    /// <summary>Its taper.</summary>
    public string? Taper { get; set; }

    /// <summary>Its cutting part.</summary>
    public string? CuttingLength { get; set; }

    /// <summary>Its greatest diameter.</summary>
    public string? GreatestDiameter { get; set; }

    /// <summary>Least speed.</summary>
    public string? LowRpm { get; set; }

    /// <summary>Greatest speed.</summary>
    public string? HighRpm { get; set; }

    /// <summary>Torque limit.</summary>
    public string? Torque { get; set; }

    /// <summary>Uses permitted.</summary>
    public string? UsesPermitted { get; set; }

    /// <summary>What it fits.</summary>
    public string? Fitting { get; set; }

    internal Answer<ItemAdded> ReadItem(Clinic clinic, string id)
    {
        if (clinic.Kinds.All(kind => kind.Code != KindCode))
        {
            return new Refusal("kind_unknown", "No kind was chosen.", "Choose the kind of the instrument.");
        }

        if (!Typed.Number("Uses before", UsesBefore, "uses", 0, 1000).TryGet(out var uses, out var refusal))
        {
            return refusal;
        }

        var position = Typed.Text(Position);
        return position is not null && clinic.Items.FirstOrDefault(item => !item.Retired && item.Position == position) is { } there
            ? new Refusal("position_taken", $"At “{position}” stands another instrument: {clinic.Kinds.First(kind => kind.Code == there.KindCode).Name}.", "Give another position, or take that one out of use first.")
            : new ItemAdded(id, KindCode!, position, (int)(uses.Value ?? 0));
    }

    internal Answer<UltrasonicUnit> ReadUnit() => Typed.Text(UnitName) is { } name
        ? Typed.Text(Thread) is null && Typed.Text(Chuck) is null
            ? new Refusal("unit_fits_nothing", $"Neither thread nor chuck of “{name}” is entered.", "Enter at least one, as its papers say: without it no tip fits.")
            : new UltrasonicUnit(name, Typed.Text(Thread), Typed.Text(Chuck))
        : new Refusal("unit_without_name", "The ultrasonic unit has no name.", "Give it the name by which the clinic calls it, such as “surgery 1”.");

    internal Answer<Sequence> ReadSequence()
    {
        if (Typed.Text(SequenceName) is not { Length: <= 80 } name)
        {
            return new Refusal("sequence_without_name", "The sequence has no name, or one of more than 80 characters.", "Give it a short name.");
        }

        var steps = new List<SequenceStep>();
        foreach (var line in Steps.Where(line => Typed.Text(line.KindCode) is not null))
        {
            if (!Typed.Number($"Step {steps.Count + 1}, speed", line.Rpm, "rpm", 0, 50_000).TryGet(out var speed, out var refusal)
                || !Typed.Number($"Step {steps.Count + 1}, torque", line.Torque, "N·cm", 0, 20).TryGet(out var torque, out refusal))
            {
                return refusal;
            }

            steps.Add(new SequenceStep(line.KindCode!, speed.Value, torque.Value, Typed.Text(line.Note)));
        }

        return steps.Count == 0
            ? new Refusal("sequence_empty", $"The sequence “{name}” has no steps.", "Choose at least one instrument.")
            : new Sequence(name, steps);
    }

    internal Answer<UseCountChosen> ReadUseCount() => UseCount is { } count && Enum.IsDefined(count)
        ? new UseCountChosen(count)
        : new Refusal("use_count_missing", "It is not said how a use is counted.", "Choose per tooth and visit, per canal, or single use.");

    internal Answer<PlanLimits> ReadLimits()
    {
        var shipped = PlanLimits.Default;
        return Typed.Number("Wall left at least", WallLeft, "mm", 0, 3).TryGet(out var wall, out var refusal)
            && Typed.Number("Dentine cut on a side at most", LossPerSide, "mm", 0, 2).TryGet(out var loss, out refusal)
            && Typed.Number("The allowance for a concavity", Concavity, "mm", 0, 2).TryGet(out var concavity, out refusal)
            && Typed.Number("Attempts", Attempts, "attempts", 1, 50).TryGet(out var attempts, out refusal)
            && Typed.Number("Minutes at a ledge", LedgeMinutes, "min", 1, 240).TryGet(out var ledge, out refusal)
            && Typed.Number("Minutes at a withdrawal", WithdrawalMinutes, "min", 1, 240).TryGet(out var withdrawal, out refusal)
            ? new PlanLimits(
                wall.Value is { } left ? new Millimetres(left) : shipped.LeastWallLeft,
                loss.Value is { } cut ? new Millimetres(cut) : shipped.GreatestLossPerSide,
                concavity.Value is { } taken ? new Millimetres(taken) : shipped.ConcavityAllowance,
                (int)(attempts.Value ?? shipped.Attempts),
                ledge.Value ?? shipped.LedgeMinutes,
                withdrawal.Value ?? shipped.WithdrawalMinutes)
            : refusal;
    }

    internal Answer<InstrumentKind> ReadKind(Clinic clinic)
    {
        if (Typed.Text(KindName) is not { Length: <= 80 } name || Sort is not { } sort)
        {
            return new Refusal("kind_without_name", "The kind has no name or no sort.", "Name it by size, taper and kind, such as “retreatment rotary 25/.06”, and choose its sort.");
        }

        if (!Typed.Number("Tip size", TipSize, "hundredths of a mm", 6, 140).TryGet(out var tip, out var refusal)
            || !Typed.Number("Taper", Taper, "mm per mm", 0, 0.2).TryGet(out var taper, out refusal)
            || !Typed.Millimetres("Cutting part", CuttingLength, 1, 40).TryGet(out var cutting, out refusal)
            || !Typed.Millimetres("Greatest diameter", GreatestDiameter, 0.05, 5).TryGet(out var greatest, out refusal)
            || !Typed.Number("Least speed", LowRpm, "rpm", 0, 50_000).TryGet(out var low, out refusal)
            || !Typed.Number("Greatest speed", HighRpm, "rpm", low.Value ?? 0, 50_000).TryGet(out var high, out refusal)
            || !Typed.Number("Torque limit", Torque, "N·cm", 0, 20).TryGet(out var torque, out refusal)
            || !Typed.Number("Uses permitted", UsesPermitted, "uses", 1, 1000).TryGet(out var uses, out refusal))
        {
            return refusal;
        }

        var code = clinic.Kinds.FirstOrDefault(kind => string.Equals(kind.Name, name, StringComparison.OrdinalIgnoreCase))?.Code
            ?? string.Concat(name.ToLowerInvariant().Select(letter => char.IsAsciiLetterOrDigit(letter) ? letter : '-')).Trim('-');
        return new InstrumentKind(
            code,
            name,
            sort,
            (int?)tip.Value,
            taper.Value,
            cutting.Value,
            greatest.Value,
            null,
            low.Value is { } least && high.Value is { } most ? new SpeedRange(least, most) : null,
            torque.Value,
            (int?)uses.Value,
            Typed.Text(Fitting),
            null);
    }
}

/// <summary>One step of a sequence, as typed.</summary>
public sealed class SequenceLine
{
    /// <summary>Its kind; nothing for no step.</summary>
    public string? KindCode { get; set; }

    /// <summary>Speed.</summary>
    public string? Rpm { get; set; }

    /// <summary>Torque limit.</summary>
    public string? Torque { get; set; }

    /// <summary>Anything else.</summary>
    public string? Note { get; set; }
}
