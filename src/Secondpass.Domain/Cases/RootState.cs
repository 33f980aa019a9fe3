using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Cases;

/// <summary>One root of the tooth: which canals are expected in it, and how those stand that are known.</summary>
/// <param name="Root">The root's short name.</param>
/// <param name="Expected">Canals to expect in it.</param>
/// <param name="Canals">Trunks and branches noted, parents before children.</param>
public sealed record RootState(string Root, IReadOnlyList<ExpectedCanal> Expected, IReadOnlyList<CanalRecord> Canals)
{
    /// <summary>Canals and branches that were found.</summary>
    public IReadOnlyList<CanalRecord> Found => [.. Canals.Where(canal => canal.Found)];

    /// <summary>Found ones with a filling, whatever its length.</summary>
    public IReadOnlyList<CanalRecord> Filled => [.. Found.Where(canal => canal.Filling is CanalFilling.Filled or CanalFilling.ShortOfEnd or CanalFilling.BeyondEnd)];

    /// <summary>Found ones without a filling.</summary>
    public IReadOnlyList<CanalRecord> Unfilled => [.. Found.Where(canal => canal.Filling == CanalFilling.Unfilled)];

    /// <summary>Ones whose filling lies off the middle of the root by at least the published difference.</summary>
    public IReadOnlyList<CanalRecord> OffCentre =>
        [.. Filled.Where(canal => canal.OffCentre is { } off && off >= new Millimetres(FilmSigns.OffCentreDifference.Value))];

    /// <summary>Expected canals that were not found.</summary>
    public IReadOnlyList<ExpectedCanal> NotFound
    {
        get
        {
            var names = Found.Select(canal => canal.Name).ToHashSet(StringComparer.OrdinalIgnoreCase);
            return [.. Expected.Where(expected => !names.Contains(expected.Name))];
        }
    }

    /// <summary>Whether the root is left alone: canals were noted in it and none of them is treated or looked for.</summary>
    public bool IsLeftAlone => Canals.Count > 0 && Canals.All(canal => canal.Intent == CanalIntent.LeaveAlone);

    /// <summary>Why the root is left alone, in words; null when it isn't, or when that is not said.</summary>
    public string? WhyLeftAlone => IsLeftAlone ? Canals.Select(canal => canal.WhyLeftAlone).FirstOrDefault(why => why is not null) : null;

    /// <summary>The roots of a case: those of its tooth, then those that were noted besides.</summary>
    public static IReadOnlyList<RootState> Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        var expected = ExpectedCanals.Of(it.Tooth);
        return
        [
            .. expected.Select(canal => canal.Root).Concat(it.Canals.Select(canal => canal.Root)).Distinct(StringComparer.OrdinalIgnoreCase)
                .Select(root => new RootState(
                    root,
                    [.. expected.Where(canal => string.Equals(canal.Root, root, StringComparison.OrdinalIgnoreCase))],
                    [.. it.Canals.Where(canal => string.Equals(canal.Root, root, StringComparison.OrdinalIgnoreCase))]))
                .Where(root => root.Canals.Count > 0 || root.Expected.Count > 0),
        ];
    }

    /// <summary>The roots that are left alone.</summary>
    public static IReadOnlyList<RootState> LeftAlone(DentalCase it) => [.. Of(it).Where(root => root.IsLeftAlone)];
}
