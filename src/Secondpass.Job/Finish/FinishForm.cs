using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Cases;

namespace Secondpass.Job.Finish;

/// <summary>A finish note as it is being typed: nothing is refused before it is asked to be kept, and nothing typed gets lost.</summary>
public sealed class FinishForm
{
    private const int SpareLines = 2;
    private const int LeastIrrigants = 4;
    private const double LongestMillimetres = 40;

    /// <summary>Number of the visit, from 1.</summary>
    public int Visit { get; set; }

    /// <summary>The version of the case that the form was filled from.</summary>
    public long Version { get; set; }

    /// <summary>Anaesthetic and amount.</summary>
    public string? Anaesthetic { get; set; }

    /// <summary>Isolation.</summary>
    public string? Isolation { get; set; }

    /// <summary>Irrigants in order of use.</summary>
    public List<IrrigantLine> Irrigants { get; set; } = [];

    /// <summary>Canal by canal.</summary>
    public List<FinishedCanalLine> Canals { get; set; } = [];

    /// <summary>Dressing.</summary>
    public string? Dressing { get; set; }

    /// <summary>Temporary seal.</summary>
    public string? TemporarySeal { get; set; }

    /// <summary>Sealer.</summary>
    public string? Sealer { get; set; }

    /// <summary>Its lot.</summary>
    public string? SealerLot { get; set; }

    /// <summary>Seal over the orifices.</summary>
    public string? OrificeSeal { get; set; }

    /// <summary>Core.</summary>
    public string? Core { get; set; }

    /// <summary>What the patient was told.</summary>
    public string? Instructions { get; set; }

    /// <summary>Day of the post-operative call, such as "2026-03-05".</summary>
    public string? CallOn { get; set; }

    /// <summary>Who restores the tooth.</summary>
    public string? RestorationBy { get; set; }

    /// <summary>By when, such as "2026-04-01".</summary>
    public string? RestorationUntil { get; set; }

    /// <summary>Whether treatment is complete with this visit.</summary>
    public bool Finished { get; set; }

    /// <summary>The form of a visit: its note, or a new one with the canals treated and what is noted of them already.</summary>
    /// <param name="it">The case.</param>
    /// <param name="visit">Number of the visit.</param>
    public static FinishForm Of(DentalCase it, int visit)
    {
        ArgumentNullException.ThrowIfNull(it);
        var note = it.Finishes.GetValueOrDefault(visit);
        var named = note?.Canals.Select(canal => canal.Canal).ToHashSet() ?? [];
        var form = new FinishForm
        {
            Visit = visit,
            Version = it.Version,
            Anaesthetic = note?.Anaesthetic,
            Isolation = note?.Isolation,
            Irrigants = [.. (note?.Irrigants ?? []).Select(IrrigantLine.Of)],
            Canals =
            [
                .. (note?.Canals ?? []).Select(FinishedCanalLine.Of),
                .. it.Canals.Where(canal => canal.Found && canal.Intent != CanalIntent.LeaveAlone && !named.Contains(canal.Name))
                    .Select(canal => FinishedCanalLine.Of(NotedOfCanal.Of(it, visit, canal.Name).Finish)),
            ],
            Dressing = note?.Dressing,
            TemporarySeal = note?.TemporarySeal,
            Sealer = note?.Sealer,
            SealerLot = note?.SealerLot,
            OrificeSeal = note?.OrificeSeal,
            Core = note?.Core,
            Instructions = note?.Instructions,
            CallOn = Day(note?.CallOn),
            RestorationBy = note?.RestorationBy,
            RestorationUntil = Day(note?.RestorationUntil),
            Finished = note?.Finished ?? false,
        };
        form.AddSpareLines();
        return form;
    }

    /// <summary>Adds empty lines for irrigants that are to be typed yet.</summary>
    public void AddSpareLines()
    {
        var used = Irrigants.FindLastIndex(line => !line.IsEmpty) + 1;
        var wanted = Math.Max(LeastIrrigants, used + SpareLines);
        while (Irrigants.Count < wanted)
        {
            Irrigants.Add(new IrrigantLine());
        }
    }

    /// <summary>Warnings for the irrigants as they are typed now.</summary>
    public IReadOnlyList<ShownIrrigantWarning> Warnings => ShownIrrigantWarning.For(Irrigants.Select(line => line.Name));

    internal Answer<FinishNote> Read()
    {
        var irrigants = new List<IrrigantUse>();
        foreach (var line in Irrigants.Where(line => !line.IsEmpty))
        {
            if (!line.Read().TryGet(out var use, out var refusal))
            {
                return refusal;
            }

            irrigants.Add(use);
        }

        var canals = new List<CanalFinish>();
        foreach (var line in Canals)
        {
            if (!Typed.Millimetres($"Working length of {line.Canal}", line.WorkingLength, 1, LongestMillimetres).TryGet(out var length, out var refusal))
            {
                return refusal;
            }

            if (length.Value is not null && Typed.Text(line.ReferencePoint) is null)
            {
                return new Refusal("no_reference", $"{line.Canal} has a working length and no reference point.", "Name the point that it was read from, such as “mesiobuccal cusp”.");
            }

            canals.Add(new CanalFinish(line.Canal, length.Value, Typed.Text(line.ReferencePoint), Typed.Text(line.MasterApicalFile), Typed.Text(line.MasterCone), Typed.Text(line.Method)));
        }

        if (!ReadDay("The day of the call", CallOn).TryGet(out var call, out var wrong) || !ReadDay("The day of the restoration", RestorationUntil).TryGet(out var until, out wrong))
        {
            return wrong;
        }

        return new FinishNote(
            Typed.Text(Anaesthetic),
            Typed.Text(Isolation),
            irrigants,
            canals,
            Typed.Text(Dressing),
            Typed.Text(TemporarySeal),
            Typed.Text(Sealer),
            Typed.Text(SealerLot),
            Typed.Text(OrificeSeal),
            Typed.Text(Core),
            Typed.Text(Instructions),
            call.Value,
            Typed.Text(RestorationBy),
            until.Value,
            Finished);
    }

    private static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static Answer<MaybeDay> ReadDay(string field, string? typed)
    {
        if (Typed.Text(typed) is not { } text)
        {
            return new MaybeDay(null);
        }

        return DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? new MaybeDay(day)
            : new Refusal("no_such_day", $"{field}: “{text}” is not a day.", "Enter year, month and day, such as 2026-04-01.");
    }

    private readonly record struct MaybeDay(DateOnly? Value);
}

/// <summary>One irrigant as it is being typed.</summary>
public sealed class IrrigantLine
{
    /// <summary>What it is.</summary>
    public string? Name { get; set; }

    /// <summary>Concentration in percent.</summary>
    public string? Percent { get; set; }

    /// <summary>Volume in ml.</summary>
    public string? Millilitres { get; set; }

    /// <summary>Minutes in the canal.</summary>
    public string? Minutes { get; set; }

    /// <summary>How it was moved.</summary>
    public string? Activation { get; set; }

    /// <summary>Whether nothing was typed.</summary>
    public bool IsEmpty => new[] { Name, Percent, Millilitres, Minutes, Activation }.All(string.IsNullOrWhiteSpace);

    internal static IrrigantLine Of(IrrigantUse use) => new()
    {
        Name = use.Name,
        Percent = Text(use.ConcentrationPercent),
        Millilitres = Text(use.Millilitres),
        Minutes = Text(use.Minutes),
        Activation = use.Activation,
    };

    internal Answer<IrrigantUse> Read()
    {
        if (Typed.Text(Name) is not { } name)
        {
            return new Refusal("no_irrigant", "A line of the irrigants has figures and no name.", "Say what it was, or empty the line.");
        }

        if (!Typed.Number($"Concentration of {name}", Percent, "%", 0.01, 100).TryGet(out var percent, out var refusal)
            || !Typed.Number($"Volume of {name}", Millilitres, "ml", 0.1, 500).TryGet(out var millilitres, out refusal)
            || !Typed.Number($"Minutes of {name}", Minutes, "min", 0.1, 240).TryGet(out var minutes, out refusal))
        {
            return refusal;
        }

        return new IrrigantUse(name, percent.Value, millilitres.Value, minutes.Value, Typed.Text(Activation));
    }

    private static string? Text(double? number) => number?.ToString("0.####", CultureInfo.InvariantCulture);
}

/// <summary>How a canal was finished, as it is being typed.</summary>
public sealed class FinishedCanalLine
{
    /// <summary>The canal.</summary>
    public string Canal { get; set; } = string.Empty;

    /// <summary>Working length in mm.</summary>
    public string? WorkingLength { get; set; }

    /// <summary>The reference point.</summary>
    public string? ReferencePoint { get; set; }

    /// <summary>Size and taper of the master apical file.</summary>
    public string? MasterApicalFile { get; set; }

    /// <summary>Size and taper of the master cone.</summary>
    public string? MasterCone { get; set; }

    /// <summary>How it was filled.</summary>
    public string? Method { get; set; }

    internal static FinishedCanalLine Of(CanalFinish finish) => new()
    {
        Canal = finish.Canal,
        WorkingLength = Length(finish.WorkingLength),
        ReferencePoint = finish.ReferencePoint,
        MasterApicalFile = finish.MasterApicalFile,
        MasterCone = finish.MasterCone,
        Method = finish.Method,
    };

    private static string? Length(Millimetres? length) => length?.Value.ToString("0.0###", CultureInfo.InvariantCulture);
}
