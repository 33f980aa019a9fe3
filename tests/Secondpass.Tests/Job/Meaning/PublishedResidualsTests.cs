using Secondpass.Job.Meaning;

namespace Secondpass.Tests.Job.Meaning;

public sealed class PublishedResidualsTests
{
    [Fact]
    public void Gives_each_third_its_published_means_with_the_deviation_named()
    {
        var all = PublishedResiduals.All;

        Assert.Equal(["Coronal third", "Middle third", "Apical third", "Whole canal"], all.Select(part => part.Where));
        Assert.Equal(["No published figure was found for the coronal third."], all[0].Found);
        Assert.Equal(
            ["After an adaptive-motion rotary file: 31 ± 10 % (mean ± standard deviation).", "After a reciprocating file: 52 ± 14 % (mean ± standard deviation)."],
            all[1].Found);
        Assert.Contains("After rotary retreatment files: 49 ± 17 % (mean ± standard deviation).", all[2].Found);
        Assert.Contains("After rotary files and shaping: 5.4 % (median; the middle half of the teeth spans 4.7 %).", all[3].Found);
    }

    [Fact]
    public void Names_each_source_once_and_says_that_it_is_context_and_no_verdict()
    {
        Assert.Single(PublishedResiduals.All[1].Sources);
        Assert.Empty(PublishedResiduals.All[0].Sources);
        Assert.Contains("not a mark for it", PublishedResiduals.Caution, StringComparison.Ordinal);
        Assert.All(PublishedResiduals.All.SelectMany(part => part.Sources), source => Assert.False(source.EndsWith('.')));
    }
}
