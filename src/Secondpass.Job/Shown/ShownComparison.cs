using Secondpass.Domain.Films;
using Secondpass.Exchange.Pictures;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Documents;

namespace Secondpass.Job.Shown;

/// <summary>A comparison as the page shows it.</summary>
/// <param name="Id">Its identity while it is undecided.</param>
/// <param name="Document">The same as the command writes it.</param>
/// <param name="Branches">Each branch in words, parents before children.</param>
/// <param name="Legend">What the strips' lines mean, as SVG.</param>
/// <param name="ScaleWords">The scale in words.</param>
/// <param name="StateWords">What stands in the canals on the film after, in words.</param>
public sealed record ShownComparison(
    string Id,
    CompareDocument Document,
    IReadOnlyList<ShownBranch> Branches,
    string Legend,
    string ScaleWords,
    string StateWords)
{
    /// <summary>A comparison that is not decided about yet.</summary>
    public static ShownComparison Of(UndecidedComparison one)
    {
        ArgumentNullException.ThrowIfNull(one);
        var (request, comparison, document) = one.Films;
        var strips = CanalStrip.DrawAll(comparison.Branches, request.BeforeScale);
        return new ShownComparison(
            one.Id,
            document,
            [.. comparison.Branches.Select((branch, index) => ShownBranch.Of(branch, request.BeforeScale, strips[index]))],
            SvgPainter.Paint(CanalStrip.Legend()),
            FilmWords.Scale(request.BeforeScale),
            FilmWords.State(request.State));
    }
}

/// <summary>One branch in words.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Headline">What is left, in one line with the name.</param>
/// <param name="Kind">left, none_visible or refused.</param>
/// <param name="Remedy">What to do when it is refused; else null.</param>
/// <param name="Mass">Mass left: coronal, middle, apical, whole.</param>
/// <param name="Area">Area left: coronal, middle, apical, whole.</param>
/// <param name="SmallestPatch">The smallest patch that these films could show.</param>
/// <param name="Strip">The canal strip, as SVG.</param>
public sealed record ShownBranch(
    string Name,
    string Headline,
    string Kind,
    string? Remedy,
    IReadOnlyList<string> Mass,
    IReadOnlyList<string> Area,
    string SmallestPatch,
    string Strip)
{
    internal static ShownBranch Of(BranchResidue branch, Calibration? scale, Picture strip)
    {
        CanalThird[] thirds = [CanalThird.Coronal, CanalThird.Middle, CanalThird.Apical];
        return new ShownBranch(
            branch.Branch.Name,
            ResidueWords.Headline(branch, scale),
            branch.Refused is not null ? "refused" : ResidueWords.IsNoneVisible(branch) ? "none_visible" : "left",
            branch.Refused?.Remedy,
            [.. thirds.Select(third => ResidueWords.Mass(branch, third)), ResidueWords.Mass(branch)],
            [.. thirds.Select(third => ResidueWords.AreaShare(branch, third)), ResidueWords.AreaShare(branch)],
            ResidueWords.SmallestPatch(branch, scale),
            SvgPainter.Paint(strip));
    }
}
