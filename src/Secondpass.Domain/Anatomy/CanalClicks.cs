using Secondpass.Domain.Films;

namespace Secondpass.Domain.Anatomy;

/// <summary>How strictly a traced path must pass through a mark.</summary>
public enum PinStrength
{
    /// <summary>The path goes through the best place within 8 pixels of the mark.</summary>
    Soft,

    /// <summary>The path goes through the mark itself.</summary>
    Hard,
}

/// <summary>One mark on a film, set to guide a canal's path.</summary>
/// <param name="At">Where it was set.</param>
/// <param name="Strength">How strictly the path must pass through it.</param>
public readonly record struct Pin(PixelPoint At, PinStrength Strength);

/// <summary>What the dentist marked of one canal branch, from its orifice (or its place on the trunk) to its end.</summary>
/// <remarks>
/// Not a <see cref="CanalPath"/>: these are a few clicks, a path is the centre line found through them.
/// A canal is a tree: a trunk with branches, each of which starts near a point of its parent.
/// The first and last pin are the ends; pins between them guide the path.
/// </remarks>
/// <param name="Name">The branch's name, such as <c>MB1</c>; unique in its tooth.</param>
/// <param name="Pins">At least two marks in order from orifice to end.</param>
/// <param name="Branches">Branches that leave this one; empty for a plain canal.</param>
public sealed record CanalClicks(string Name, IReadOnlyList<Pin> Pins, IReadOnlyList<CanalClicks> Branches)
{
    /// <summary>This branch and all below it, parents before children.</summary>
    public IEnumerable<CanalClicks> SelfAndBelow() => Branches.SelectMany(branch => branch.SelfAndBelow()).Prepend(this);
}
