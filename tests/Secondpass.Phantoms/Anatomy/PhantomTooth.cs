using Secondpass.Phantoms.Matter;

namespace Secondpass.Phantoms.Anatomy;

/// <summary>A root of a simulated tooth.</summary>
/// <param name="Name">Its name, such as MB.</param>
/// <param name="Solid">Its outline.</param>
public sealed record PhantomRoot(string Name, Column Solid);

/// <summary>A simulated tooth with its roots, canals and old fillings, and what stands around it. Everything is invented.</summary>
/// <remarks>Frame in mm: x mesiodistal, y from the neck (0) towards the apex, z towards the film. Canals: parents before children.</remarks>
public sealed class PhantomTooth
{
    internal PhantomTooth(ToothKind kind, int seed, IReadOnlyList<PhantomRoot> roots, IReadOnlyList<PhantomCanal> canals, Material filling, CrownAnatomy crown, Surroundings surroundings)
    {
        Kind = kind;
        Seed = seed;
        Roots = roots;
        Canals = canals;
        Filling = filling;
        Crown = crown;
        Surroundings = surroundings;
    }

    /// <summary>Its kind.</summary>
    public ToothKind Kind { get; }

    /// <summary>The seed that it grew from.</summary>
    public int Seed { get; }

    /// <summary>A number after ISO 3950 that fits its kind.</summary>
    public string Number => Kind switch
    {
        ToothKind.UpperIncisor => "11",
        ToothKind.LowerPremolar => "45",
        ToothKind.UpperPremolar => "14",
        ToothKind.LowerMolar => "46",
        _ => "16",
    };

    /// <summary>Whether its apex points up on a film.</summary>
    public bool ApexUp => Kind is ToothKind.UpperIncisor or ToothKind.UpperPremolar or ToothKind.UpperMolar;

    /// <summary>Its roots.</summary>
    public IReadOnlyList<PhantomRoot> Roots { get; }

    /// <summary>Its canal branches, filled or not, parents before children.</summary>
    public IReadOnlyList<PhantomCanal> Canals { get; }

    /// <summary>Its filled branches, parents before children.</summary>
    public IEnumerable<PhantomCanal> FilledCanals => Canals.Where(canal => canal.IsFilled);

    /// <summary>What its old fillings are made of.</summary>
    public Material Filling { get; }

    internal CrownAnatomy Crown { get; }

    internal Surroundings Surroundings { get; }

    /// <summary>Grows a tooth.</summary>
    /// <param name="kind">Its kind.</param>
    /// <param name="seed">Everything not chosen follows from it.</param>
    /// <param name="options">What is chosen.</param>
    public static PhantomTooth Build(ToothKind kind, int seed, ToothOptions? options = null) =>
        new ToothBuilder(kind, seed, options ?? new ToothOptions()).Build();

    /// <summary>A branch by its name.</summary>
    public PhantomCanal Canal(string name) => Canals.First(canal => canal.Name == name);

    /// <summary>The centre line of a branch from the trunk's orifice to the branch's end, in mm, every 0.05 mm of y.</summary>
    /// <param name="name">The branch.</param>
    public IReadOnlyList<(double X, double Y, double Z)> CentreLine(string name)
    {
        var canal = Canal(name);
        var line = canal.Parent is null ? [] : CentreLine(canal.Parent).TakeWhile(point => point.Y < canal.OwnFromY - 1e-6).ToList();
        for (var i = 0; i < canal.Lumen.Count; i++)
        {
            var y = canal.Lumen.FromY + (i * Column.Step);
            var section = canal.Lumen.SectionAt(y);
            line.Add((section.X, y, section.Z));
        }

        return line;
    }
}
