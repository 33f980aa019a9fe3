using Secondpass.Phantoms.Anatomy;

namespace Secondpass.Phantoms.Contents;

/// <summary>What stands in the canals where no filling is.</summary>
public enum CanalMedium
{
    /// <summary>Soft tissue or its remains: canals before treatment.</summary>
    Tissue,

    /// <summary>Dried canals.</summary>
    Air,

    /// <summary>Canals full of irrigant.</summary>
    Irrigant,

    /// <summary>Calcium hydroxide paste.</summary>
    Dressing,

    /// <summary>Calcium hydroxide paste with barium sulfate.</summary>
    RadiopaqueDressing,
}

/// <summary>An instrument that stands in a canal.</summary>
/// <param name="Branch">The branch it stands in.</param>
/// <param name="ToY">y of its tip in mm.</param>
/// <param name="TipMillimetres">Width of its tip in mm, such as 0.15 for size 15.</param>
/// <param name="TaperPercent">Its taper in percent.</param>
/// <param name="NickelTitanium">Whether it is of nickel-titanium; else stainless steel.</param>
public sealed record StandingInstrument(string Branch, double ToY, double TipMillimetres = 0.20, double TaperPercent = 2, bool NickelTitanium = false);

/// <summary>What one film shows of a tooth's treatment: before, during or after.</summary>
public sealed record PhantomContents
{
    /// <summary>What is left of the old filling.</summary>
    public required Residue Residue { get; init; }

    /// <summary>What fills the rest of the canals.</summary>
    public CanalMedium Medium { get; init; } = CanalMedium.Tissue;

    /// <summary>Dentine cut away on each side of every filled canal in mm.</summary>
    public double EnlargementMillimetres { get; init; }

    /// <summary>Whether the crown was opened down to the canals.</summary>
    public bool AccessOpen { get; init; }

    /// <summary>Whether the restoration (a metal crown, a filling) was taken off.</summary>
    public bool RestorationRemoved { get; init; }

    /// <summary>Instruments in the canals.</summary>
    public IReadOnlyList<StandingInstrument> Instruments { get; init; } = [];

    /// <summary>Whether a rubber dam's clamp sits on the tooth.</summary>
    public bool Clamp { get; init; }

    /// <summary>Branches that were filled again, with the old filling's material over the whole lumen.</summary>
    public IReadOnlyList<string> Refilled { get; init; } = [];

    /// <summary>Pieces of the old filling that lie where none was before.</summary>
    public IReadOnlyList<MovedPlug> Moved { get; init; } = [];

    /// <summary>The tooth before the second treatment.</summary>
    public static PhantomContents Before(PhantomTooth tooth) => new() { Residue = Residue.Everything(tooth) };

    /// <summary>The tooth opened, with the given residue.</summary>
    /// <param name="residue">What is left.</param>
    /// <param name="enlargementMillimetres">Dentine cut away on each side in mm.</param>
    /// <param name="medium">What fills the rest.</param>
    public static PhantomContents After(Residue residue, double enlargementMillimetres = 0.05, CanalMedium medium = CanalMedium.Air) =>
        new() { Residue = residue, EnlargementMillimetres = enlargementMillimetres, Medium = medium, AccessOpen = true, RestorationRemoved = true };
}
