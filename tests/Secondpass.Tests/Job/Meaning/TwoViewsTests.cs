using Secondpass.Domain;
using Secondpass.Job.Documents;
using Secondpass.Job.Meaning;

namespace Secondpass.Tests.Job.Meaning;

public sealed class TwoViewsTests
{
    [Fact]
    public void A_canal_hidden_on_one_pair_is_read_from_the_other()
    {
        var hidden = Pair(("P", 40, 55, null));
        var shown = Pair(("P", 12, 6, null));

        var canal = Assert.Single(TwoViews.Read(hidden, shown).Value.Canals);

        Assert.Equal("both", canal.Whole.From);
        Assert.InRange(canal.Whole.MassPercent!.Value, 12, 13);
        Assert.True(canal.Whole.MassInterval![1] - canal.Whole.MassInterval[0] <= 12);
    }

    [Fact]
    public void A_canal_that_one_pair_refuses_is_read_from_the_other_alone_and_says_so()
    {
        var without = Pair(("MB", 10, 5, null), ("P", null, 0, null));
        var with = Pair(("P", 12, 6, 20.0), ("MB", 11, 5, null));

        var together = TwoViews.Read(without, with).Value;

        Assert.Equal(["MB", "P"], together.Canals.Select(canal => canal.Name));
        Assert.Equal(("second", 12.0), (together.Canals[1].Whole.From, together.Canals[1].Whole.MassPercent));
        Assert.Equal("12 % (6–18 %), second pair only", TwoViews.Words(together.Canals[1].Whole));
        Assert.Equal(("second", 20.0), (together.Canals[1].Apical.From, together.Canals[1].Apical.MassPercent));
        Assert.Equal(("none", null), (together.Canals[0].Apical.From, together.Canals[0].Apical.MassPercent));
        Assert.Equal("not known", TwoViews.Words(together.Canals[0].Apical));
        Assert.EndsWith("another angle, by mass: MB " + TwoViews.Words(together.Canals[0].Whole) + "; P 12 % (6–18 %), from the other angle alone.", TwoViews.Sentence(together), StringComparison.Ordinal);
    }

    [Fact]
    public void Two_pairs_that_contradict_each_other_are_said_to_and_the_interval_spans_both()
    {
        var together = TwoViews.Read(Pair(("D", 5, 4, null)), Pair(("D", 60, 8, null))).Value;

        Assert.Equal("disagree", together.Canals[0].Whole.From);
        Assert.Equal([1.0, 68.0], together.Canals[0].Whole.MassInterval!);
        Assert.EndsWith(", the pairs disagree", TwoViews.Words(together.Canals[0].Whole), StringComparison.Ordinal);
        Assert.Contains(together.Notices, notice => notice.StartsWith("The two pairs disagree on D", StringComparison.Ordinal));
    }

    [Fact]
    public void A_canal_hidden_on_both_pairs_is_no_surer_from_both_than_from_the_surer()
    {
        var canal = Assert.Single(TwoViews.Read(Hidden(Pair(("P", 40, 55, null))), Hidden(Pair(("P", 30, 50, null)))).Value.Canals);

        Assert.Equal([-20.0, 80.0], canal.Whole.MassInterval!);
        Assert.Equal(30, canal.Whole.MassPercent);

        static CompareDocument Hidden(CompareDocument pair) => pair with { Canals = [.. pair.Canals.Select(canal => canal with { OverlapShare = 0.4 })] };
    }

    [Fact]
    public void Refuses_pairs_without_a_canal_of_the_same_name()
    {
        Assert.False(TwoViews.Read(Pair(("D", 5, 4, null)), Pair(("P", 60, 8, null))).TryGet(out _, out var refusal));
        Assert.Contains("D on the first, P on the second", refusal!.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Refuses_a_pair_that_could_not_be_compared_with_its_reason()
    {
        var refused = CompareDocument.Refused(new Refusal("different_tooth", "The films show two teeth.", "Check."), []);

        Assert.False(TwoViews.Read(Pair(("D", 5, 4, null)), refused).TryGet(out _, out var refusal));
        Assert.Equal("The second pair has no result: The films show two teeth.", refusal!.Reason);
    }

    private static CompareDocument Pair(params (string Name, double? Mass, double Half, double? Apical)[] canals) => new(
        1,
        new RegistrationDocument(true, null, null, [1, 0, 0, 0, 1, 0, 0, 0, 1], 0.5),
        [.. canals.Select(canal => new ComparedCanalDocument(
            canal.Name,
            canal.Mass is null ? "refused" : "ok",
            null,
            null,
            null,
            canal.Mass,
            canal.Mass is { } mass ? [mass - canal.Half, mass + canal.Half] : null,
            new ThirdsDocument(null, null, canal.Apical is { } apical ? new ThirdDocument(null, null, apical, [apical - 10, apical + 10]) : null),
            [],
            null,
            0))],
        []);
}
