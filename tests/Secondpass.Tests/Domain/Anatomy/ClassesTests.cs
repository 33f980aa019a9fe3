using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Quantities;

namespace Secondpass.Tests.Domain.Anatomy;

public sealed class ClassesTests
{
    // 0–2 mm short of the radiographic apex: Liang et al., Clin Oral Investig 2012;16:1619–1626.
    [Theory]
    [InlineData(2.0, CanalFilling.Filled)]
    [InlineData(2.1, CanalFilling.ShortOfEnd)]
    [InlineData(0.0, CanalFilling.Filled)]
    [InlineData(-0.1, CanalFilling.BeyondEnd)]
    public void A_filling_that_ends_within_2_mm_is_adequate_further_off_short_and_past_the_end_beyond(double shortOfEnd, CanalFilling expected) =>
        Assert.Equal(expected, FillingLength.Classify(new Millimetres(shortOfEnd)));

    // Straight 5° or less, moderate 10–20°, severe 25–70°: Schneider, Oral Surg 1971;32:271–275.
    [Theory]
    [InlineData(0, "straight", "0° after Schneider: straight (5° or less)")]
    [InlineData(5, "straight", "5° after Schneider: straight (5° or less)")]
    [InlineData(7, null, "7° after Schneider: between straight (5° or less) and moderate (10–20°), in neither class")]
    [InlineData(10, "moderate", "10° after Schneider: moderate (10–20°)")]
    [InlineData(22, null, "22° after Schneider: between moderate (10–20°) and severe (25–70°), in neither class")]
    [InlineData(25, "severe", "25° after Schneider: severe (25–70°)")]
    [InlineData(71, null, "71° after Schneider: beyond severe (25–70°)")]
    public void Angles_between_Schneiders_classes_fall_in_none_and_it_says_so(double degrees, string? name, string words)
    {
        var found = CurvatureClass.Of(new Degrees(degrees));

        Assert.Equal((name, words), (found.Name, found.InWords));
    }
}
