using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;

namespace Secondpass.Tests.Domain.Evidence;

public sealed class CanalAnatomyTests
{
    // Martins et al., J Endod 2018;44:1641–1649 (upper first molar); Martins et al., J Endod 2022;48:223–233 (lower first molar).
    [Theory]
    [InlineData("16", "MB2", 73.8, 48.0, 97.6)]
    [InlineData("26", "MB2", 73.8, 48.0, 97.6)]
    [InlineData("36", "D2", 36.9, 16.4, 60.0)]
    [InlineData("46", "DL", 5.6, 0.9, 22.4)]
    public void Expects_what_was_published_with_its_range(string tooth, string canal, double percent, double low, double high)
    {
        var prevalence = Expected(tooth, canal).Prevalence!;

        Assert.Equal(percent, prevalence.Value);
        Assert.Equal((low, high), (prevalence.Range!.Value.Low, prevalence.Range.Value.High));
        Assert.Equal(Standing.Published, prevalence.Standing);
    }

    [Fact]
    public void Has_no_figure_for_a_second_distal_canal_of_the_lower_second_molar() => Assert.Null(Expected("37", "D2").Prevalence);

    // Bayes' rule by hand: 0.738 · 0.12 / (0.738 · 0.12 + 0.262 · 0.88) = 0.08856 / 0.31912.
    [Fact]
    public void A_scan_that_shows_no_second_canal_leaves_28_percent_of_73_8() => Assert.Equal(100 * 0.08856 / 0.31912, CanalAnatomy.AfterNotSeenPercent(73.8), 9);

    [Fact]
    public void Every_tooth_has_a_usual_canal_and_no_name_twice() => Assert.All(
        Enumerable.Range(11, 75).Select(number => ToothNumber.Parse(number.ToString(CultureInfo.InvariantCulture))).Where(answer => answer.IsGiven),
        tooth =>
        {
            var expected = ExpectedCanals.Of(tooth.Value);

            Assert.Contains(expected, canal => canal.IsUsual);
            Assert.Equal(expected.Count, expected.Select(canal => canal.Name).Distinct(StringComparer.OrdinalIgnoreCase).Count());
            Assert.All(expected.Where(canal => canal.Prevalence?.Value is { }), canal => Assert.InRange(canal.Prevalence!.Value!.Value, 0, 100));
        });

    private static ExpectedCanal Expected(string tooth, string canal) => ExpectedCanals.Of(ToothNumber.Parse(tooth).Value).Single(one => one.Name == canal);
}
