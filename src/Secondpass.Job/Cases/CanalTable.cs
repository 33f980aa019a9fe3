using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Exchange.Wording;

namespace Secondpass.Job.Cases;

/// <summary>What is expected, found, filled, off centre and unfilled, root by root, in words.</summary>
public static class CanalTable
{
    /// <summary>The rows of a case.</summary>
    public static IReadOnlyList<RootRow> Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return
        [
            .. RootState.Of(it).Select(root => new RootRow(
                root.Root,
                ExpectedCanals.RootInWords(root.Root),
                [.. root.Expected.Select(expected => expected.IsUsual ? expected.Name : $"{expected.Name} {CanalWords.Share(expected.Prevalence)}")],
                [.. root.Found.Select(canal => canal.Name)],
                [.. root.Found.Select(canal => $"{canal.Name} {CanalWords.Filling(canal)}")],
                [.. root.Filled.Select(canal => $"{canal.Name} {CanalWords.Filling(canal)}")],
                [.. root.Filled.Where(canal => canal.OffCentre is not null).Select(canal => $"{canal.Name} {MeasureWords.Length(canal.OffCentre!.Value)}")],
                [.. root.Unfilled.Select(canal => canal.Name)],
                [.. root.NotFound.Select(expected => expected.Name)],
                CanalWords.Sentences(root, it.ConeBeam),
                [.. root.NotFound.Select(expected => expected.Prevalence?.Source).OfType<string>().Distinct()],
                root.IsLeftAlone)),
        ];
    }
}

/// <summary>One root in words.</summary>
/// <param name="Root">Its short name.</param>
/// <param name="Words">Its name in words.</param>
/// <param name="Expected">Canals to expect, each with how often it is there.</param>
/// <param name="Found">Canals found.</param>
/// <param name="Stands">The same, each with how its filling stands.</param>
/// <param name="Filled">Canals filled, and how.</param>
/// <param name="OffCentre">How far fillings lie off centre.</param>
/// <param name="Unfilled">Canals found and not filled.</param>
/// <param name="NotFound">Canals expected and not found.</param>
/// <param name="Sentences">What follows, in sentences.</param>
/// <param name="Sources">What the figures rest on.</param>
/// <param name="IsLeftAlone">Whether the root is left alone.</param>
public sealed record RootRow(
    string Root,
    string Words,
    IReadOnlyList<string> Expected,
    IReadOnlyList<string> Found,
    IReadOnlyList<string> Stands,
    IReadOnlyList<string> Filled,
    IReadOnlyList<string> OffCentre,
    IReadOnlyList<string> Unfilled,
    IReadOnlyList<string> NotFound,
    IReadOnlyList<string> Sentences,
    IReadOnlyList<string> Sources,
    bool IsLeftAlone);
