using Secondpass.Domain.Evidence;

namespace Secondpass.Domain.Chairside;

/// <summary>What an irrigant is, as far as interactions go.</summary>
public enum IrrigantAgent
{
    /// <summary>Nothing that an interaction is known of here.</summary>
    Other,

    /// <summary>Sodium hypochlorite.</summary>
    Hypochlorite,

    /// <summary>Chlorhexidine.</summary>
    Chlorhexidine,

    /// <summary>EDTA.</summary>
    Edta,

    /// <summary>Citric acid.</summary>
    CitricAcid,

    /// <summary>Hydrogen peroxide.</summary>
    Peroxide,

    /// <summary>Saline or water: rinses out what was there.</summary>
    Rinse,
}

/// <summary>A warning about two irrigants.</summary>
/// <param name="First">The one used first, as it was noted.</param>
/// <param name="Second">The one used after it, as it was noted.</param>
/// <param name="RinsedBetween">Whether a rinse was noted between them.</param>
/// <param name="Happens">What happens when they meet, in a sentence.</param>
/// <param name="Remedy">What to do, in a sentence.</param>
/// <param name="RestsOn">Where that comes from and how well it is founded.</param>
public sealed record IrrigantWarning(string First, string Second, bool RinsedBetween, string Happens, string Remedy, Sourced<string> RestsOn);

/// <summary>Warns of irrigants that should not meet in a canal, by the order of their use.</summary>
public static class IrrigantInteractions
{
    private static readonly (string Part, IrrigantAgent Agent)[] Names =
    [
        ("hypochlorit", IrrigantAgent.Hypochlorite),
        ("naocl", IrrigantAgent.Hypochlorite),
        ("chlorhexidin", IrrigantAgent.Chlorhexidine),
        ("chx", IrrigantAgent.Chlorhexidine),
        ("edta", IrrigantAgent.Edta),
        ("edetat", IrrigantAgent.Edta),
        ("citric", IrrigantAgent.CitricAcid),
        ("peroxide", IrrigantAgent.Peroxide),
        ("h2o2", IrrigantAgent.Peroxide),
        ("saline", IrrigantAgent.Rinse),
        ("water", IrrigantAgent.Rinse),
    ];

    /// <summary>What an irrigant is, by its name in any spelling of upper and lower case.</summary>
    /// <param name="name">The name as noted, such as "sodium hypochlorite" or "NaOCl".</param>
    public static IrrigantAgent AgentOf(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return Names.FirstOrDefault(known => name.Contains(known.Part, StringComparison.OrdinalIgnoreCase)).Agent;
    }

    /// <summary>Warnings for irrigants in the order of their use, each pair of agents once.</summary>
    /// <remarks>A rinse between two of them silences no warning about hypochlorite and chlorhexidine: nothing published says that it is enough.</remarks>
    /// <param name="inOrderOfUse">The irrigants.</param>
    public static IReadOnlyList<IrrigantWarning> Of(IReadOnlyList<IrrigantUse> inOrderOfUse)
    {
        ArgumentNullException.ThrowIfNull(inOrderOfUse);
        var warnings = new List<IrrigantWarning>();
        var told = new HashSet<(IrrigantAgent, IrrigantAgent, bool)>();
        for (var second = 1; second < inOrderOfUse.Count; second++)
        {
            var isRinsed = false;
            for (var first = second - 1; first >= 0; first--)
            {
                var (earlier, later) = (AgentOf(inOrderOfUse[first].Name), AgentOf(inOrderOfUse[second].Name));
                isRinsed |= earlier == IrrigantAgent.Rinse;
                if (Between(earlier, later) is { } rule && (!isRinsed || rule.EvenRinsed) && told.Add((earlier, later, isRinsed)))
                {
                    warnings.Add(new IrrigantWarning(
                        inOrderOfUse[first].Name.Trim(),
                        inOrderOfUse[second].Name.Trim(),
                        isRinsed,
                        rule.Happens,
                        isRinsed ? "A rinse is noted between them; nothing published says that it is enough. Look for a brown film." : rule.Remedy,
                        rule.RestsOn));
                }
            }
        }

        return [.. warnings.Where(warning => !warning.RinsedBetween || !warnings.Exists(worse => !worse.RinsedBetween && Same(worse, warning)))];

        static bool Same(IrrigantWarning one, IrrigantWarning other) => ReferenceEquals(one.RestsOn, other.RestsOn);
    }

    private static Rule? Between(IrrigantAgent first, IrrigantAgent second) => (first, second) switch
    {
        (IrrigantAgent.Hypochlorite, IrrigantAgent.Chlorhexidine) or (IrrigantAgent.Chlorhexidine, IrrigantAgent.Hypochlorite) => new(
            "They leave a brown precipitate that discolours and closes dentine; whether it holds para-chloroaniline is disputed.",
            "Rinse all of the first out before the second, or leave one of them away.",
            IrrigantEvidence.HypochloriteWithChlorhexidine,
            EvenRinsed: true),
        (IrrigantAgent.Edta or IrrigantAgent.CitricAcid, IrrigantAgent.Hypochlorite) => new(
            "What is left of the first takes the free chlorine that hypochlorite works by.",
            "Rinse the first out before hypochlorite follows.",
            IrrigantEvidence.HypochloriteWithChelator),
        (IrrigantAgent.Hypochlorite, IrrigantAgent.CitricAcid) => new(
            "Acid sets chlorine gas free from the hypochlorite that is left.",
            "Rinse or draw the hypochlorite out first, with suction at the tooth.",
            IrrigantEvidence.HypochloriteWithAcid),
        (IrrigantAgent.Hypochlorite, IrrigantAgent.Peroxide) or (IrrigantAgent.Peroxide, IrrigantAgent.Hypochlorite) => new(
            "They set oxygen free: foam and pressure in the canal, and both are spent.",
            "Rinse the first out, and never close a tooth over it.",
            IrrigantEvidence.HypochloriteWithPeroxide),
        (IrrigantAgent.Chlorhexidine, IrrigantAgent.Edta) or (IrrigantAgent.Edta, IrrigantAgent.Chlorhexidine) => new(
            "They leave a precipitate of the two.",
            "Rinse the first out before the second.",
            IrrigantEvidence.ChlorhexidineWithEdta),
        _ => null,
    };

    private sealed record Rule(string Happens, string Remedy, Sourced<string> RestsOn, bool EvenRinsed = false);
}
