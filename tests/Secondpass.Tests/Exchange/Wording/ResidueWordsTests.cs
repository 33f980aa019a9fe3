using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;

namespace Secondpass.Tests.Exchange.Wording;

public sealed class ResidueWordsTests
{
    [Theory]
    [InlineData(12, "12 %")]
    [InlineData(12.5, "13 %")]
    [InlineData(0, "0 %")]
    [InlineData(-3, "0 %")]
    [InlineData(0.2, "under 1 %")]
    [InlineData(0.99, "under 1 %")]
    [InlineData(1, "1 %")]
    [InlineData(99, "99 %")]
    [InlineData(99.4, "over 99 %")]
    [InlineData(100, "100 %")]
    [InlineData(107.3, "100 %")]
    public void Says_a_share_in_whole_percent_between_0_and_100(double percent, string words) =>
        Assert.Equal(words, ResidueWords.Percent(percent));

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Never_says_a_share_that_is_no_number(double percent) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ResidueWords.Percent(percent));

    [Theory]
    [InlineData(8.4, 16.6, "8–17 %")]
    [InlineData(8, 17, "8–17 %")]
    [InlineData(-6, 4.01, "0–5 %")]
    [InlineData(96.2, 112, "96–100 %")]
    [InlineData(-9, -1, "under 1 %")]
    [InlineData(0, 0, "under 1 %")]
    [InlineData(101, 140, "100 %")]
    [InlineData(-20, 130, "0–100 %")]
    public void Rounds_an_interval_outwards_and_clips_it(double low, double high, string words) =>
        Assert.Equal(words, ResidueWords.PercentInterval(new Interval(low, high)));

    [Theory]
    [InlineData(0.1197, "0.12 mm²")]
    [InlineData(0.12, "0.12 mm²")]
    [InlineData(0.1201, "0.13 mm²")]
    [InlineData(0.0001, "0.01 mm²")]
    [InlineData(1.5, "1.50 mm²")]
    public void Rounds_the_smallest_patch_up_because_less_would_promise_too_much(double area, string words) =>
        Assert.Equal(words, ResidueWords.Area(new SquareMillimetres(area)));

    [Fact]
    public void Says_the_smallest_patch_in_square_pixels_where_there_is_no_scale()
    {
        var residue = InventedComparison.Residue(InventedComparison.Plain);

        Assert.Equal("0.12 mm²", ResidueWords.SmallestPatch(residue, InventedComparison.Scale));
        Assert.Equal("133 square pixels", ResidueWords.SmallestPatch(residue, null));
    }

    [Fact]
    public void Headline_names_the_branch_the_share_and_the_third_with_most_of_it() =>
        Assert.Equal(
            "MB1: 12 % of the filling left (8–17 %), most of it in the apical third",
            Headline(InventedComparison.Plain));

    [Fact]
    public void Headline_names_no_third_when_the_residue_is_spread()
    {
        var spread = InventedComparison.Plain with { Left = [new(0.1, 0.3), new(0.4, 0.6), new(0.7, 0.88)] };

        Assert.Equal("MB1: 12 % of the filling left (8–17 %)", Headline(spread));
    }

    [Fact]
    public void Headline_names_no_third_when_a_wide_one_only_holds_its_own_part()
    {
        var untouched = InventedComparison.Plain with
        {
            Left = [new(0.05, 0.9)],
            Filled = new(0.05, 0.5),
            Whole = InventedCanal.Share(100, 95, 105),
            Thirds = InventedComparison.Thirds((100, 95, 105), (100, 95, 105), (100, 95, 105)),
        };

        Assert.Equal("MB1: 100 % of the filling left (95–100 %)", Headline(untouched));
    }

    [Fact]
    public void Says_that_none_is_visible_and_what_could_not_have_been_seen()
    {
        var none = new InventedCanal("DB") { Whole = InventedCanal.Share(1, -4, 6) };

        Assert.Equal("DB: no filling visible on this film; residue under 0.12 mm² can't be seen; 0–6 % may be left", Headline(none));
        Assert.True(ResidueWords.IsNoneVisible(InventedComparison.Residue(none)));
    }

    [Fact]
    public void Says_square_pixels_when_none_is_visible_and_there_is_no_scale()
    {
        var none = InventedComparison.Residue(new InventedCanal("DB") { Whole = InventedCanal.Share(-3, -8, 2) });

        Assert.Equal("no filling visible on this film; residue under 133 square pixels can't be seen; 0–2 % may be left", ResidueWords.WhatIsLeft(none, null));
    }

    [Fact]
    public void Says_along_how_much_of_the_filling_the_films_can_not_tell()
    {
        var unclear = new InventedCanal("DB") { Whole = InventedCanal.Share(1, -4, 40), Untold = [new(0.05, 0.9)] };

        Assert.Equal(
            "no filling visible on this film; residue under 0.12 mm² can't be seen; 0–40 % may be left, and along 100 % of the filling these films can't tell",
            ResidueWords.WhatIsLeft(InventedComparison.Residue(unclear), InventedComparison.Scale));
    }

    [Fact]
    public void Does_not_say_that_none_is_visible_where_a_patch_is_seen_although_the_interval_reaches_0()
    {
        var seen = new InventedCanal("DB") { Whole = InventedCanal.Share(2, -1, 6), Left = [new(0.4, 0.5)] };

        Assert.StartsWith("DB: 2 % of the filling left (0–6 %)", Headline(seen), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-4, "0 %")]
    [InlineData(0.6, "under 1 %")]
    public void Does_not_leave_it_at_0_percent_where_a_patch_is_seen(double percent, string share)
    {
        var seen = new InventedCanal("B") { Whole = InventedCanal.Share(percent, -9, 25), Left = [new(0.4, 0.5)] };

        Assert.StartsWith($"{share} of the filling left (0–25 %), yet some of it is seen", WhatIsLeft(seen), StringComparison.Ordinal);
        Assert.Equal("seen (0–25 %)", ResidueWords.Mass(InventedComparison.Residue(seen)));
    }

    [Fact]
    public void Does_not_say_that_none_is_visible_where_the_interval_excludes_0_although_no_patch_is_seen()
    {
        var thin = new InventedCanal("DB") { Whole = InventedCanal.Share(5, 2, 9) };

        Assert.Equal("DB: 5 % of the filling left (2–9 %)", Headline(thin));
    }

    [Fact]
    public void Takes_a_patch_smaller_than_the_smallest_that_can_be_shown_for_none()
    {
        var speck = InventedComparison.Residue(new InventedCanal("DB") { Whole = InventedCanal.Share(1, -4, 6), Left = [new(0.4, 0.407)] });

        Assert.Contains(speck.Strip, sample => sample.ResidueFromPixels > sample.ResidueToPixels);
        Assert.True(ResidueWords.IsNoneVisible(speck));
    }

    [Fact]
    public void Gives_the_reason_of_a_refused_branch()
    {
        var refused = InventedComparison.Molar[3];

        Assert.Equal(
            "DL: An instrument stands in this canal on the film after, so what is left of the filling can't be told from it.",
            Headline(refused));
        Assert.Equal(string.Empty, ResidueWords.Third(InventedComparison.Residue(refused), CanalThird.Apical));
        Assert.Equal(string.Empty, ResidueWords.Mass(InventedComparison.Residue(refused)));
    }

    [Fact]
    public void Says_that_it_speaks_of_the_area_where_there_is_no_mass()
    {
        var noMass = new InventedCanal("P") { Whole = new ResidueShare(Estimate.Within(40, 5), null, WhyNoMass: "The film is overexposed here."), Left = [new(0.2, 0.6)] };

        Assert.Equal("40 % of the filling's area left (35–45 %)", WhatIsLeft(noMass));
        Assert.Equal("not known", ResidueWords.Mass(InventedComparison.Residue(noMass)));
        Assert.Equal("40 % (35–45 %)", ResidueWords.AreaShare(InventedComparison.Residue(noMass)));
    }

    [Fact]
    public void Gives_the_reason_where_there_is_neither_mass_nor_area()
    {
        var neither = new InventedCanal("P") { Whole = new ResidueShare(null, null, "The canal leaves the film after.", "The canal leaves the film after.") };

        Assert.Equal("The canal leaves the film after.", WhatIsLeft(neither));
    }

    [Fact]
    public void Says_that_there_was_no_filling_before_where_a_branch_has_no_result_and_is_not_refused() =>
        Assert.Equal("no filling here before", WhatIsLeft(new InventedCanal("P") { Whole = null }));

    [Theory]
    [InlineData(CanalThird.Coronal, "30 % (22–38 %)")]
    [InlineData(CanalThird.Middle, "70 % (60–80 %)")]
    [InlineData(CanalThird.Apical, "no filling here before")]
    public void Says_what_is_left_in_a_third(CanalThird third, string words) =>
        Assert.Equal(words, ResidueWords.Third(InventedComparison.Residue(InventedComparison.Molar[2]), third));

    [Theory]
    [InlineData(CanalThird.Coronal, "none seen (0–6 %)")]
    [InlineData(CanalThird.Middle, "unclear (0–11 %)")]
    [InlineData(CanalThird.Apical, "none seen (0–4 %)")]
    public void Does_not_say_none_of_a_third_that_the_films_can_not_tell_about(CanalThird third, string words) =>
        Assert.Equal(words, ResidueWords.Third(InventedComparison.Residue(InventedComparison.Molar[1]), third));

    [Fact]
    public void Says_of_a_third_before_the_branch_point_that_the_trunk_counts_it()
    {
        var branch = InventedComparison.Residues(InventedComparison.Molar[0], 0, 4)[1];

        Assert.Equal("counted with trunk", ResidueWords.Third(branch, CanalThird.Coronal));
        Assert.Equal("12 % (5–19 %)", ResidueWords.Third(branch, CanalThird.Apical));
    }

    [Fact]
    public void Never_promises_whatever_the_figures_are()
    {
        foreach (var canal in InventedComparison.Molar)
        {
            foreach (var word in new[] { "proven", "clean", "NaN", "∞", "-" })
            {
                Assert.DoesNotContain(word, WhatIsLeft(canal), StringComparison.OrdinalIgnoreCase);
            }
        }
    }

    [Fact]
    public void Writes_points_for_decimals_on_a_machine_that_writes_commas()
    {
        var german = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        german.NumberFormat.NumberDecimalSeparator = ",";
        german.NumberFormat.NegativeSign = "−";
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = german;
        try
        {
            Assert.Equal("1,5", 1.5.ToString(CultureInfo.CurrentCulture));
            Assert.Equal("0.12 mm²", ResidueWords.Area(new SquareMillimetres(0.12)));
            Assert.Equal("0.03 mm per pixel, from the film's file", FilmWords.Scale(InventedComparison.Scale));
            Assert.Equal("15.3 mm long; filling ends 1.5 mm short of the canal end", MeasureWords.Line(InventedComparison.Branch(InventedComparison.Plain)));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static string Headline(InventedCanal canal) =>
        ResidueWords.Headline(InventedComparison.Residue(canal), InventedComparison.Scale);

    private static string WhatIsLeft(InventedCanal canal) =>
        ResidueWords.WhatIsLeft(InventedComparison.Residue(canal), InventedComparison.Scale);
}
