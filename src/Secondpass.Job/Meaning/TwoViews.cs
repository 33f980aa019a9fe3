using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Documents;

namespace Secondpass.Job.Meaning;

/// <summary>What a figure was read from.</summary>
public enum ViewsUsed
{
    /// <summary>Neither pair can tell.</summary>
    None,

    /// <summary>Only the first pair can.</summary>
    First,

    /// <summary>Only the second pair can.</summary>
    Second,

    /// <summary>Both pairs.</summary>
    Both,

    /// <summary>Both pairs, and they differ by more than their errors explain.</summary>
    Disagree,
}

/// <summary>Reads two comparisons of one tooth together: each before and after, the second pair taken at another angle.</summary>
/// <remarks>
/// Canals that lie over each other on one film lie beside each other on the other, and a root hides from one angle what it shows from
/// another. Mass only: a projected area is that of its own projection. The two are taken to err on their own but for
/// <see cref="TwoViewFacts.CommonDeviation"/>; a canal that lies behind another on both is read from the surer pair alone, because what
/// hides it may be the same.
/// </remarks>
public static class TwoViews
{
    private const string MassOnly =
        "The two pairs are read together by mass: the projected area is another one from another angle and stands with each pair.";

    /// <summary>Reads two comparisons together, canal by canal; canals are the same where their names are.</summary>
    /// <param name="first">One pair.</param>
    /// <param name="second">The other.</param>
    /// <returns>What both say; or a refusal: one of them could not be compared, or no canal has the same name on both.</returns>
    public static Answer<TogetherDocument> Read(CompareDocument first, CompareDocument second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        if (!first.Registration.Ok || !second.Registration.Ok)
        {
            return new Refusal(
                "pair_not_compared",
                $"The {(first.Registration.Ok ? "second" : "first")} pair has no result: {(first.Registration.Ok ? second : first).Registration.Reason}",
                "Read the other pair alone, or compare these films again after what the refusal says.");
        }

        string[] names = [.. first.Canals.Concat(second.Canals).Select(canal => canal.Name).Distinct(StringComparer.OrdinalIgnoreCase)];
        var canals = names.Select(name => Canal(name, Find(first, name), Find(second, name))).ToArray();
        if (!first.Canals.Any(canal => Find(second, canal.Name) is not null))
        {
            return new Refusal(
                "no_canal_on_both",
                $"No canal has the same name on both pairs: {Names(first)} on the first, {Names(second)} on the second.",
                "Give each canal the same name on both pairs. Pairs of two teeth are not read together.");
        }

        string[] disagreeing = [.. canals.Where(canal => canal.Whole.From == EnumWords.Of(ViewsUsed.Disagree)).Select(canal => canal.Name)];
        string[] said = disagreeing.Length == 0 ? [] : [Disagree(disagreeing)];
        return new TogetherDocument(1, canals, [MassOnly, .. said]);
    }

    /// <summary>A share in words, with what it was read from.</summary>
    /// <param name="share">The share.</param>
    /// <returns>Such as "12 % (8–17 %)", "30 % (5–60 %), first pair only" or "not known".</returns>
    public static string Words(TogetherShareDocument share) => Words(share, ResidueWords.Share, ", first pair only", ", second pair only", ", the pairs disagree");

    /// <summary>What both say of each whole canal, for a letter that shows the first pair.</summary>
    /// <param name="together">What both say.</param>
    /// <returns>Such as "Read together with films of the same visit from another angle, by mass: MB 12 % (8–17 %); ML 3 % (0–8 %), from the other angle alone."</returns>
    public static string Sentence(TogetherDocument together)
    {
        ArgumentNullException.ThrowIfNull(together);
        var canals = together.Canals.Select(canal => $"{canal.Name} {Words(canal.Whole, InLetter, ", from these films alone", ", from the other angle alone", ", where the two angles disagree")}");
        return $"Read together with films of the same visit from another angle, by mass: {string.Join("; ", canals)}.";
    }

    private static string Words(TogetherShareDocument share, Func<Estimate, string> said, string firstOnly, string secondOnly, string disagree)
    {
        ArgumentNullException.ThrowIfNull(share);
        if (Rounded.Back(share.MassPercent, share.MassInterval) is not { } mass)
        {
            return ResidueWords.NotKnown;
        }

        return said(mass) + share.From switch
        {
            "first" => firstOnly,
            "second" => secondOnly,
            "disagree" => disagree,
            _ => string.Empty,
        };
    }

    // A nought in a letter reads as proof.
    private static string InLetter(Estimate mass) =>
        mass.Value < 1 ? $"none visible ({ResidueWords.PercentInterval(mass.Interval)} may be left)" : ResidueWords.Share(mass);

    private static string Disagree(string[] names) =>
        $"The two pairs disagree on {string.Join(", ", names)} by more than their errors explain. The interval spans both. Look whether one tooth, one visit and the same canal names are on both.";

    private static ComparedCanalDocument? Find(CompareDocument document, string name) =>
        document.Canals.FirstOrDefault(canal => string.Equals(canal.Name, name, StringComparison.OrdinalIgnoreCase));

    private static string Names(CompareDocument document) => string.Join(", ", document.Canals.Select(canal => canal.Name));

    private static TogetherCanalDocument Canal(string name, ComparedCanalDocument? first, ComparedCanalDocument? second)
    {
        var common = Math.Min(first?.OverlapShare ?? 0, second?.OverlapShare ?? 0) >= TwoViewFacts.HiddenFrom.Value
            ? double.PositiveInfinity
            : TwoViewFacts.CommonDeviation.Value;
        return new TogetherCanalDocument(
            name,
            Join(Rounded.Back(first?.MassPercent, first?.MassInterval), Rounded.Back(second?.MassPercent, second?.MassInterval), common),
            Third(thirds => thirds.Coronal),
            Third(thirds => thirds.Middle),
            Third(thirds => thirds.Apical));

        TogetherShareDocument Third(Func<ThirdsDocument, ThirdDocument?> of) => Join(Of(first, of), Of(second, of), common);

        static Estimate? Of(ComparedCanalDocument? canal, Func<ThirdsDocument, ThirdDocument?> of) =>
            canal is not null && of(canal.Thirds) is { } third ? Rounded.Back(third.MassPercent, third.MassInterval) : null;
    }

    private static TogetherShareDocument Join(Estimate? first, Estimate? second, double commonDeviation)
    {
        if (first is { } one && second is { } other)
        {
            var joined = JoinedShare.Of(one, other, commonDeviation);
            return Share(joined.Agree ? ViewsUsed.Both : ViewsUsed.Disagree, joined.Percent);
        }

        return first is not null ? Share(ViewsUsed.First, first) : Share(second is null ? ViewsUsed.None : ViewsUsed.Second, second);
    }

    private static TogetherShareDocument Share(ViewsUsed used, Estimate? mass) => new(
        EnumWords.Of(used),
        mass is { } value ? Rounded.Percent(value.Value) : null,
        mass is { } ends ? Rounded.Ends(ends.Interval, Rounded.Percent) : null);
}
