using System.Text.RegularExpressions;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Films;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Documents;
using Secondpass.Job.Meaning;

namespace Secondpass.Tests.Job.Meaning;

/// <summary>Is another pass worth it? Asked of one straight canal of 14 mm, its filling as wide as a cone, at 0.03 mm per pixel.</summary>
public sealed partial class NextPassTests
{
    private const double Scale = 0.03;
    private const double End = 14 / Scale;

    [Fact]
    public void Names_the_instrument_that_reaches_the_largest_place_and_its_stop()
    {
        var answer = Ask(Left((6, 7)), "retreatment-30-06").Next;

        Assert.Equal(PassAnswer.Reaches, answer.Answer);
        Assert.Matches(ReachesIt(), answer.Words);
        Assert.Equal("retreatment-30-06", answer.Instrument);
        Assert.StartsWith("Middle third, 6.0–7.", answer.Place, StringComparison.Ordinal);
        Assert.Contains(answer.Why, why => why == "Asked of the instruments of “tray”.");
        Assert.InRange(answer.StopFromEnd!.Value.Value, 2, 7);
    }

    [Fact]
    public void Takes_of_those_that_reach_it_the_one_that_cuts_least()
    {
        var answer = Ask(Left((6, 7)), "retreatment-30-12", "adaptive-core-25").Next;

        Assert.Equal("adaptive-core-25", answer.Instrument);
        Assert.Contains(answer.Why, why => why.StartsWith("It is taken to open to 1.5 mm at most.", StringComparison.Ordinal));
    }

    [Fact]
    public void Says_when_only_a_pre_curved_ultrasonic_file_reaches_it()
    {
        var answer = Ask(Left((6, 7), tip: 1.2, taper: 0), "retreatment-30-04", "ultrasonic-25").Next;

        Assert.Equal(PassAnswer.ReachesPreCurved, answer.Answer);
        Assert.StartsWith("Reached only by the ultrasonic file 25/.02 (pre-curved, where its tip is seen): stop ", answer.Words, StringComparison.Ordinal);
        Assert.Contains(answer.Why, why => why.StartsWith("Retreatment rotary 30/.04 does not touch it.", StringComparison.Ordinal));
    }

    [Fact]
    public void Says_when_no_instrument_of_the_tray_reaches_it()
    {
        var answer = Ask(Left((6, 7), tip: 1.2, taper: 0), "retreatment-30-04").Next;

        Assert.Equal(PassAnswer.NoneReaches, answer.Answer);
        Assert.Equal("No instrument of this tray reaches it.", answer.Words);
        Assert.Null(answer.Instrument);
    }

    [Fact]
    public void Says_down_to_where_a_place_near_the_end_is_reached_and_that_none_reaches_the_rest()
    {
        var answer = Ask(Left((0.5, 4)), "ultrasonic-25").Next;

        Assert.Equal(PassAnswer.ReachesPart, answer.Answer);
        Assert.EndsWith("No instrument of this tray reaches the rest.", answer.Words, StringComparison.Ordinal);
        Assert.StartsWith("Ultrasonic file 25/.02 (pre-curved, where its tip is seen) reaches it from 2.1 mm", answer.Words, StringComparison.Ordinal);
        Assert.Contains(" mm from the end upwards: stop 2.0 mm short of the end.", answer.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Says_that_another_pass_would_be_blind_where_nothing_is_seen_and_that_the_interval_includes_none()
    {
        var answer = Ask(Left() with { Whole = Share(1, -4, 6) }, "retreatment-30-06").Next;

        Assert.Equal(PassAnswer.Blind, answer.Answer);
        Assert.Equal("Below what this film can show: another pass would be blind. The interval includes none (0–6 %).", answer.Words);
    }

    [Fact]
    public void Says_that_the_interval_includes_none_beside_a_place_too()
    {
        var answer = Ask(Left((6, 7)) with { Whole = Share(3, -2, 8) }, "retreatment-30-06").Next;

        Assert.Equal(PassAnswer.Reaches, answer.Answer);
        Assert.EndsWith(" The interval includes none (0–8 %).", answer.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_patch_smaller_than_the_films_can_show_is_no_place_to_go_to()
    {
        var small = Left((6, 7)) with { DetectionLimitSquarePixels = 1e6 };

        Assert.Equal(PassAnswer.Blind, Ask(small, "retreatment-30-06").Next.Answer);
    }

    [Fact]
    public void Puts_the_largest_place_first_and_the_others_behind_it()
    {
        var pass = Ask(Left((6, 8), (3, 3.4)), "retreatment-30-06", "ultrasonic-25");

        Assert.StartsWith("Middle third, 6.0–8.", pass.Next.Place, StringComparison.Ordinal);
        Assert.StartsWith("Apical third, 3.0–3.", Assert.Single(pass.Others).Place, StringComparison.Ordinal);
    }

    [Fact]
    public void Advises_no_pass_where_a_dressing_is_in_the_canal()
    {
        var residue = Left((6, 7));
        var answer = Assert.Single(NextPass.Of(Request(AfterState.Dressing), Compared(residue), null, Tray("retreatment-30-06"))).Next;

        Assert.Equal(PassAnswer.MayBeDressing, answer.Answer);
        Assert.Equal("What is seen may be dressing or paste: this film is no reason for another pass.", answer.Words);
    }

    [Fact]
    public void Judges_nothing_in_mm_without_a_scale_and_says_how_to_get_one()
    {
        var answer = Assert.Single(NextPass.Of(Request() with { BeforeScale = null }, Compared(Left((6, 7))), null, Tray("retreatment-30-06"))).Next;

        Assert.Equal(PassAnswer.NotKnown, answer.Answer);
        Assert.Equal("Not judged without a scale.", answer.Words);
        Assert.Equal(["Without a scale no level is known in mm. Measure something of known length on the film before."], answer.Why);
    }

    [Fact]
    public void Sends_nothing_after_what_lies_beyond_the_end()
    {
        var answer = Ask(Left((-1.5, -0.5)), "retreatment-30-06").Next;

        Assert.Equal(PassAnswer.NoneReaches, answer.Answer);
        Assert.StartsWith("Beyond the end, ", answer.Place, StringComparison.Ordinal);
        Assert.StartsWith("No instrument goes beyond the end", answer.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(AfterState.Removed)]
    [InlineData(AfterState.Dressing)]
    public void Never_asks_for_another_film(AfterState state)
    {
        BranchResidue[] all = [Left((6, 7)), Left((0.5, 4)), Left(), Left((6, 7), tip: 1.2, taper: 0), Left((-1, -0.5))];
        foreach (var residue in all)
        {
            var pass = Assert.Single(NextPass.Of(Request(state), Compared(residue), null, Tray("retreatment-30-04")));
            Assert.All(pass.Others.Prepend(pass.Next), place => Assert.DoesNotMatch(AsksForAFilm(), string.Join(' ', place.Why.Prepend(place.Words))));
        }
    }

    [Fact]
    public void Asks_the_stock_with_uses_left_and_while_none_is_entered_the_clinic_s_first_sequence()
    {
        var withoutStock = PassTray.Of(CasePlanning.None);
        var withStock = PassTray.Of(CasePlanning.None with
        {
            Clinic = Clinic.From(
            [
                new ItemAdded("one", "retreatment-30-06", null, 5),
                new ItemAdded("two", "hedstrom-25", null, 0),
            ]),
        });

        Assert.Equal(["ultrasonic-25", "retreatment-30-06", "retreatment-30-04", "adaptive-core-25"], withoutStock.Kinds.Select(kind => kind.Code));
        Assert.Equal(["hedstrom-25"], withStock.Kinds.Select(kind => kind.Code));
        Assert.Equal("the instruments in stock with uses left", withStock.Called);
    }

    private static CanalNextPass Ask(BranchResidue residue, params string[] codes) =>
        Assert.Single(NextPass.Of(Request(), Compared(residue), null, Tray(codes)));

    private static PassTray Tray(params string[] codes) =>
        new("the instruments of “tray”", [.. codes.Select(code => ShippedKinds.All.Single(kind => kind.Code == code))], CasePlanning.None);

    private static Comparison Compared(BranchResidue residue) =>
        new(new FilmRegistration([1, 0, 0, 0, 1, 0, 0, 0, 1], 0, InvertedAfter: false, 100), [residue], new Lazy<ComparisonPicture>(() => new ComparisonPicture(1, 1, [0], [0])), []);

    private static ComparisonRequest Request(AfterState state = AfterState.Removed)
    {
        var film = DemoFilm.Read(DemoFilm.Before(DemoFilm.Incisor));
        return new ComparisonRequest(film, film, Calibration.From(Scale, CalibrationSource.Entered).Value, null, [], state, new Dictionary<string, AfterState>(), []);
    }

    /// <summary>Residue as wide as half the canal at the given levels, in mm from the end; 10 % left (6–14 %).</summary>
    private static BranchResidue Left((double Deep, double High) one, double tip = 0.30, double taper = 0.03) => Left([one], tip, taper);

    private static BranchResidue Left(params (double Deep, double High)[] places) => Left(places, 0.30, 0.03);

    private static BranchResidue Left((double Deep, double High)[] places, double tip, double taper)
    {
        var path = new CanalPath([new PixelPoint(100, 20), new PixelPoint(100, 20 + End)]);
        var levels = Enumerable.Range(0, (int)(End / 3) + 25).Select(i => i * 3.0).ToList();
        var branch = new TracedBranch(
            "P",
            path,
            0,
            new FillingProfile(
                [.. levels.Where(level => level <= End).Select(level => new FillingSample(level, Estimate.Within(WidthAt(level), 0.5), 0, 100))],
                0,
                Estimate.Within(End, 1)),
            new BranchMeasures(End, Estimate.Within(14, 0.2), Estimate.Within(14, 0.2), 100, Estimate.Within(0, 0.2), Estimate.Within(3, 2), new PruettCurve(null, null, "straight"), null, []),
            []);
        return new BranchResidue(
            branch,
            null,
            Share(10, 6, 14),
            new Dictionary<CanalThird, ResidueShare>(),
            [],
            20,
            0,
            [.. levels.Select(level => places.Any(place => level > End - (place.High / Scale) && level < End - (place.Deep / Scale))
                ? new StripSample(level, WidthAt(level), 0, WidthAt(level) / 2, 0.5, CannotTell: false)
                : new StripSample(level, WidthAt(level), 0, 0, 0, CannotTell: false))]);

        double WidthAt(double level) => (tip + (taper * Math.Max(0, End - level) * Scale)) / Scale;
    }

    private static ResidueShare Share(double value, double low, double high) => new(null, new Estimate(value, new Interval(low, high)));

    [GeneratedRegex(@"^Retreatment rotary 30/\.06 reaches it: stop \d\.\d mm short of the end\.$")]
    private static partial Regex ReachesIt();

    [GeneratedRegex(@"(take|another|new|second|repeat)( a)? (film|radiograph|picture)", RegexOptions.IgnoreCase)]
    private static partial Regex AsksForAFilm();
}
