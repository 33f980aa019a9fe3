using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Plans;
using Secondpass.Job.Cases;

namespace Secondpass.Job.Plans;

/// <summary>What the dentist sets for a plan, as typed.</summary>
public sealed class PlanForm
{
    private List<PlanCanalLine>? canals;

    /// <summary>The name of the sequence; nothing for the clinic's first.</summary>
    public string? Sequence { get; set; }

    /// <summary>The core that has to come out, in words.</summary>
    public string? Core { get; set; }

    /// <summary>Whether resin will be bonded in the root afterwards.</summary>
    public bool ResinFollows { get; set; }

    /// <summary>One line for each canal that is to be treated.</summary>
    public List<PlanCanalLine> Canals
    {
        // A form without a line sets none.
        get => canals ??= [];
        set => canals = value;
    }

    /// <summary>What the button says: use it, or only show it.</summary>
    public string? Act { get; set; }

    /// <summary>The version of the case that the form was filled from.</summary>
    public long Version { get; set; }

    /// <summary>The form filled from a case, with what was set for the plan in use.</summary>
    public static PlanForm Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return new PlanForm
        {
            Sequence = it.Plan?.Name,
            Core = it.PlanSettings.Core,
            ResinFollows = it.PlanSettings.ResinFollows,
            Canals = [.. it.Canals.Where(canal => canal.Intent == CanalIntent.Retreat).Select(canal => PlanCanalLine.Of(canal.Name, it.PlanSettings.Canals.GetValueOrDefault(canal.Name)))],
            Version = it.Version,
        };
    }

    internal Answer<PlanSettings> ReadSettings()
    {
        var choices = new Dictionary<string, CanalChoice>();
        foreach (var line in Canals)
        {
            if (!Typed.Millimetres($"The deepest stop in {line.Name}", line.NoDeeperThan, 1, 40).TryGet(out var deepest, out var refusal)
                || !line.ReadFinal().TryGet(out var final, out refusal))
            {
                return refusal;
            }

            if (line.Name is { } name && (deepest.Value is not null || final.Value is not null))
            {
                choices[name] = new CanalChoice(deepest.Value, final.Value);
            }
        }

        return new PlanSettings(choices, Typed.Text(Core), ResinFollows);
    }
}

/// <summary>What is set for one canal, as typed.</summary>
public sealed class PlanCanalLine
{
    /// <summary>The canal.</summary>
    public string? Name { get; set; }

    /// <summary>No instrument deeper than this from the reference point, in mm.</summary>
    public string? NoDeeperThan { get; set; }

    /// <summary>Planned final size and taper, such as 35/.04.</summary>
    public string? Final { get; set; }

    internal static PlanCanalLine Of(string name, CanalChoice? set) => new()
    {
        Name = name,
        NoDeeperThan = set?.NoDeeperThan?.Value.ToString("0.0###", CultureInfo.InvariantCulture),
        Final = set?.Final?.Words,
    };

    internal Answer<TypedFinal> ReadFinal()
    {
        if (Typed.Text(Final) is not { } text)
        {
            return new TypedFinal(null);
        }

        var parts = text.Replace(',', '.').Split('/', StringSplitOptions.TrimEntries);
        return parts is [var sizeText, var taperText]
            && int.TryParse(sizeText, NumberStyles.None, CultureInfo.InvariantCulture, out var size) && size is >= 6 and <= 140
            && double.TryParse(taperText, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var taper) && taper is >= 0 and <= 0.2
            ? new TypedFinal(new FinalSize(size, taper))
            : new Refusal("not_a_size", $"The planned final size of {Name}: {Documents.Quoted.Text(text, 40)} is not a size and taper.", "Write it as 35/.04: an ISO size of 6 to 140 and a taper of 0 to .20, or leave it empty.");
    }
}

/// <summary>A final size that was typed; null when nothing was.</summary>
/// <param name="Value">The size.</param>
internal readonly record struct TypedFinal(FinalSize? Value);
