using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>Figures that a plan of removal rests on.</summary>
public static class PlanFacts
{
    /// <summary>Margin of driven instruments while the length comes from a film.</summary>
    public static Sourced<double> FilmLengthMargin { get; } = new(
        "Driven instruments stop short of the end while its length was read on a film only",
        2.0,
        "mm",
        null,
        "A film's length errs by about 2 mm until a length meter reads it after clearing; no publication.",
        Standing.CommonPractice);

    /// <summary>Margin of driven instruments once a length meter was read.</summary>
    public static Sourced<double> MeterLengthMargin { get; } = new(
        "Driven instruments stop short of the end once a length meter read it",
        0.5,
        "mm",
        null,
        "Within 0.5 mm in 52 to 100 % by device, 23 teeth against micro-CT (study of three length meters in the mouth; the page names no authors)",
        Standing.Published);

    /// <summary>Apical part that is kept unsoftened where filling lies beyond the end.</summary>
    public static Sourced<double> KeptUnsoftened { get; } = new(
        "Filling beyond the end: apical part that is kept firm, to be drawn out in one piece",
        3.0,
        "mm",
        null,
        "Enough for a Hedström file's flutes to hold; no publication was found",
        Standing.OwnChoice);

    /// <summary>How far before an obstacle the canal is cleared.</summary>
    public static Sourced<double> JustShort { get; } = new(
        "Clearing stops short of an obstacle by",
        1.0,
        "mm",
        null,
        "A straight file that meets a ledge deepens it; 1 mm is twice what a stop on a file can be set to",
        Standing.OwnChoice);

    /// <summary>How deep the coronal filling is taken first.</summary>
    public static Sourced<double> CoronalDepth { get; } = new(
        "Coronal filling taken out first, below the orifice",
        3.0,
        "mm",
        null,
        "Makes room that guides the next instrument; no publication was found",
        Standing.OwnChoice);

    /// <summary>Minutes of taking a post out: mean.</summary>
    public static Sourced<double> PostMinutes { get; } = new(
        "Minutes to take a post out, for one post (mean; 95 % of posts if times are log-normal with the published mean 6.5 and mode 3)",
        6.5,
        "min",
        new Interval(1.2, 20.5),
        "Abbott, Int Endod J 2002;35:63–67: 1600 of 1600 posts, mean 6.5, mode 3 min, one root broke. Interval: σ² = ln(6.5/3)/1.5, μ = ln 6.5 − σ²/2",
        Standing.Derived);

    /// <summary>What removal is said to take.</summary>
    public static Sourced<double> RemovalMinutes { get; } = new(
        "Removal with the shipped sequence is said to take (middle)",
        6,
        "min",
        new Interval(5, 7),
        "Told by clinicians who use it; no publication. An earlier attempt took two appointments of 30–45 min.",
        Standing.CommonPractice);

    /// <summary>What shaping afterwards is said to take.</summary>
    public static Sourced<double> ShapingMinutes { get; } = new(
        "Shaping in the same visit after removal with the shipped sequence is said to take",
        30,
        "min",
        null,
        "Told by clinicians who use it; no publication.",
        Standing.CommonPractice);

    /// <summary>Attempts at an obstacle.</summary>
    public static Sourced<int> Attempts { get; } = new(
        "Attempts at an obstacle, set beforehand",
        3,
        "attempts",
        null,
        "A number set beforehand keeps an obstacle from being made worse; the clinic sets its own",
        Standing.OwnChoice);

    /// <summary>Minutes at a ledge or blockage.</summary>
    public static Sourced<double> LedgeMinutes { get; } = new(
        "Minutes at a ledge or blockage, set beforehand",
        10,
        "min",
        null,
        "No published figure was found; the clinic sets its own",
        Standing.OwnChoice);

    /// <summary>Minutes at a fragment, silver point or carrier.</summary>
    public static Sourced<double> WithdrawalMinutes { get; } = new(
        "Minutes at a separated instrument, silver point, carrier or cone, set beforehand",
        20,
        "min",
        null,
        "No published figure was found; the clinic sets its own",
        Standing.OwnChoice);

    /// <summary>How often taking a fragment out fails.</summary>
    public static Sourced<double> FragmentFailure { get; } = new(
        "Separated instruments not taken out (172 of 1133 teeth); 55 perforations, 4.9 %",
        15.2,
        "%",
        null,
        "Healthcare 2024;12:1390, doi 10.3390/healthcare12141390",
        Standing.Published);

    /// <summary>Dry ultrasonic bursts.</summary>
    public static Sourced<double> DryBurstSeconds { get; } = new(
        "Ultrasonics without coolant, one burst at most, then a pause with coolant",
        10,
        "s",
        new Interval(10, 15),
        "10–15 s recalled (Dominici 2005; Davis 2010); 25 s passed the critical limit (G Ital Endod 2018); bone is sensitive at 47 °C for 1 min (Eriksson, Albrektsson, J Prosthet Dent 1983;50:101–107)",
        Standing.FromMemory);
}
