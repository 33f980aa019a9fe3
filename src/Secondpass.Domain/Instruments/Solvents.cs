using Secondpass.Domain.Evidence;

namespace Secondpass.Domain.Instruments;

/// <summary>A solvent for gutta-percha, as a material, with what is published of it.</summary>
/// <param name="Code">Short stable word.</param>
/// <param name="Name">Its name.</param>
/// <param name="Published">What is published of bonding, dissolving and time.</param>
public sealed record Solvent(string Code, string Name, IReadOnlyList<ISourced> Published);

/// <summary>What the clinic does about solvents.</summary>
/// <param name="Code">The solvent that it takes; null for none.</param>
/// <param name="Note">Its reason or rule, in words; null for none.</param>
public sealed record SolventPreference(string? Code, string? Note)
{
    /// <summary>The rule that ships: bulk out first, none.</summary>
    public static SolventPreference None { get; } = new(null, null);
}

/// <summary>The solvents that are known.</summary>
public static class Solvents
{
    /// <summary>The solvents.</summary>
    public static IReadOnlyList<Solvent> All { get; } =
    [
        new("chloroform", "chloroform", [SolventFacts.BondAfterChloroform, SolventFacts.BondAfterWater, SolventFacts.PushOutAfterChloroform, SolventFacts.DissolvesInChloroform, SolventFacts.Hardness, SolventFacts.ChloroformMinutes]),
        new("halothane", "halothane", [SolventFacts.BondAfterHalothane, SolventFacts.BondAfterWater, SolventFacts.DissolvesInHalothane]),
        new("xylene", "xylene", [SolventFacts.DissolvesInXylene]),
        new("eucalyptol", "eucalyptol", [SolventFacts.PushOutAfterOils, SolventFacts.DissolvesInEucalyptol, SolventFacts.DissolvesInOilsWarm, SolventFacts.TimeWithEucalyptol]),
        new("orange-oil", "orange oil", [SolventFacts.PushOutAfterOils, SolventFacts.DissolvesInOilsWarm]),
        new("turpentine", "turpentine", [SolventFacts.DissolvesInOilsWarm]),
    ];

    /// <summary>What holds for solvents as a whole.</summary>
    public static IReadOnlyList<ISourced> OnTheWhole { get; } = [SolventFacts.TimeWithSolvent, SolventFacts.CleaningWithSolvent, SolventFacts.Hardness];

    /// <summary>A solvent by its code, or null.</summary>
    public static Solvent? Find(string? code) => All.FirstOrDefault(solvent => solvent.Code == code);
}
