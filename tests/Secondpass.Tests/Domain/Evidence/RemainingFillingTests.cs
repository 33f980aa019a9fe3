using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;

namespace Secondpass.Tests.Domain.Evidence;

public sealed class RemainingFillingTests
{
    [Fact]
    public void A_standard_deviation_is_never_stored_as_an_interval()
    {
        Assert.All(RemainingFilling.ByThird, row => Assert.Null(row.Share.Range));
        Assert.Equal("31.2 ± 10.1 (mean ± standard deviation)", RemainingFilling.MiddleAfterAdaptiveMotion.Value.ToString());
        Assert.Equal("5.39 (median; interquartile range 4.71)", RemainingFilling.WholeAfterRotaryAndShaping.Value.ToString());
    }

    [Fact]
    public void What_was_recalled_of_a_citation_is_said_and_what_the_paper_does_not_say_is_not_invented()
    {
        Assert.All(RemainingFilling.ByThird, row => Assert.Contains("from memory", row.Share.Source, StringComparison.Ordinal));
        Assert.All(RemainingFilling.ByThird, row => Assert.Contains("whether by area or by volume", row.Share.Source, StringComparison.Ordinal));
        Assert.DoesNotContain(RemainingFilling.ByThird, row => row.Third == CanalThird.Coronal);
        Assert.Equal(Standing.Missing, RemainingFilling.Coronal.Standing);
    }
}
