using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Pictures;

/// <summary>What was there and what is left at one level, ready to be drawn. Pixels from the path, positive to the left of the way from orifice to end.</summary>
/// <param name="LevelPixels">Level on the path.</param>
/// <param name="Left">Left edge of the filling before.</param>
/// <param name="Right">Right edge of the filling before; equal to the left one where there was none.</param>
/// <param name="ResidueLeft">Left edge of the residue.</param>
/// <param name="ResidueRight">Right edge of the residue; equal to the left one where none is seen.</param>
/// <param name="CannotTell">Whether the films can't tell about the rest of the width.</param>
/// <param name="IsBelowLimit">Whether its residue belongs to a patch smaller than these films can show for sure.</param>
internal readonly record struct StripSection(
    double LevelPixels, double Left, double Right, double ResidueLeft, double ResidueRight, bool CannotTell, bool IsBelowLimit = false)
{
    public bool IsFilled => Left > Right;

    public bool HasResidue => ResidueLeft > ResidueRight;
}

/// <summary>Everything that one strip shows.</summary>
/// <param name="Branch">The branch.</param>
/// <param name="Line">What is said beside its name.</param>
/// <param name="Thirds">What is said of each third; null for a measurement.</param>
/// <param name="Shared">Sections of the part shared with the trunk, drawn faintly.</param>
/// <param name="Own">Sections of the branch's own part.</param>
/// <param name="Voids">Gaps of the own part's filling to point out; none beside what is left.</param>
internal sealed record StripContent(
    TracedBranch Branch,
    string Line,
    IReadOnlyDictionary<CanalThird, string>? Thirds,
    IReadOnlyList<StripSection> Shared,
    IReadOnlyList<StripSection> Own,
    IReadOnlyList<FillingVoid> Voids)
{
    public static StripContent Of(TracedBranch branch) => Of(branch, MeasureWords.Line(branch), null, [], [.. branch.Measures.Voids.Where(gap => gap.FromPixels >= branch.OwnFromPixels)]);

    public static StripContent Of(BranchResidue residue, Calibration? scale)
    {
        var thirds = residue.Refused is null
            ? Enum.GetValues<CanalThird>().ToDictionary(third => third, third => ResidueWords.Third(residue, third))
            : null;
        return Of(residue.Branch, ResidueWords.WhatIsLeft(residue, scale), thirds, residue.Strip, [], residue.DetectionLimitSquarePixels);
    }

    private static StripContent Of(
        TracedBranch branch,
        string line,
        IReadOnlyDictionary<CanalThird, string>? thirds,
        IReadOnlyList<StripSample> strip,
        IReadOnlyList<FillingVoid> voids,
        double limitSquarePixels = 0)
    {
        var small = ResiduePatches.Of(strip).Where(patch => patch.AreaSquarePixels < limitSquarePixels).ToList();
        var measured = branch.Filling.Samples.Select(Section).ToList();
        var shared = measured.Where(section => section.LevelPixels < branch.OwnFromPixels).ToList();
        var own = strip.Count > 0
            ? [.. strip.Select(sample => Section(sample, CentreOffset(branch.Filling.Samples, sample.LevelPixels)) with
            {
                IsBelowLimit = small.Exists(patch => sample.LevelPixels >= patch.FromPixels && sample.LevelPixels <= patch.ToPixels),
            })]
            : measured.Where(section => section.LevelPixels >= branch.OwnFromPixels).ToList();
        return new StripContent(branch, line, thirds, shared, own, voids);
    }

    private static StripSection Section(FillingSample sample)
    {
        var half = (sample.FillingWidthPixels?.Value ?? 0) / 2;
        return new StripSection(
            sample.LevelPixels, sample.CentreOffsetPixels + half, sample.CentreOffsetPixels - half, 0, 0, false);
    }

    private static StripSection Section(StripSample sample, double centreOffset) => new(
        sample.LevelPixels,
        centreOffset + (sample.FillingWidthPixels / 2),
        centreOffset - (sample.FillingWidthPixels / 2),
        Math.Max(sample.ResidueFromPixels, sample.ResidueToPixels),
        Math.Min(sample.ResidueFromPixels, sample.ResidueToPixels),
        sample.CannotTell);

    private static double CentreOffset(IReadOnlyList<FillingSample> samples, double levelPixels)
    {
        FillingSample? before = null;
        foreach (var sample in samples.Where(sample => sample.FillingWidthPixels is not null))
        {
            if (sample.LevelPixels >= levelPixels)
            {
                return before is { } last && sample.LevelPixels > last.LevelPixels
                    ? double.Lerp(
                        last.CentreOffsetPixels,
                        sample.CentreOffsetPixels,
                        (levelPixels - last.LevelPixels) / (sample.LevelPixels - last.LevelPixels))
                    : sample.CentreOffsetPixels;
            }

            before = sample;
        }

        return before?.CentreOffsetPixels ?? 0;
    }
}
