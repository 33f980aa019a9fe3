using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Letters;

namespace Secondpass.Tests.Exchange.Letters;

/// <summary>An invented molar, treated again in one visit, with everything noted that a letter can tell.</summary>
internal static class InventedLetter
{
    public static readonly DateOnly Day = new(2026, 3, 4);

    public static readonly DateTimeOffset Nine = new(2026, 3, 4, 8, 0, 0, TimeSpan.Zero);

    public static ClinicDetails Clinic { get; } = new("Practice at the Invented Mill", ["1 Mill Lane", "Inventown IT1 2AB"], "Dr A. Example", "registration 000000", "01234 000000");

    /// <summary>A clinic one hour east of Greenwich, so that a time told in UTC would show.</summary>
    public static TimeZoneInfo Zone { get; } = TimeZoneInfo.CreateCustomTimeZone("test", TimeSpan.FromHours(1), "test", "test");

    public static CaseOpened Opened { get; } = new(
        new Patient("10432", "Jo Invented"),
        ToothNumber.Parse("16").Value,
        new Referral("Dr B. Sample", "Sample Dental Practice\n2 Sample Street\nInventown IT3 4CD", "pain on biting since January", null, Urgent: false, null));

    public static IReadOnlyList<CanalRecord> Canals { get; } =
    [
        Canal("MB1", "MB", CanalFilling.ShortOfEnd, 2.1) with { OffCentre = new Millimetres(0.4) },
        Canal("MB2", "MB", CanalFilling.Unfilled, null) with { Parent = "MB1", Meeting = new CanalMeeting(true, new Millimetres(4.5), MeetingPlane.Buccolingual), FoundLater = true },
        Canal("DB", "DB", CanalFilling.BeyondEnd, -0.1) with { Obstacles = [Obstacle.Ledge] },
        Canal("P", "P", CanalFilling.Filled, 1.2) with { Intent = CanalIntent.LeaveAlone },
    ];

    public static IReadOnlyList<ChairsideEntry> Visit { get; } =
    [
        At(0, ChairsideMark.Seated),
        At(8, ChairsideMark.Access),
        At(20, ChairsideMark.HandsOff),
        At(23, ChairsideMark.HandsOn),
        At(26, ChairsideMark.RemovalStart, "MB1"),
        Step(26.1, "MB1", "ultrasonic file 25"),
        Step(27, "MB1", "retreatment rotary 30/.06"),
        Step(27.5, "MB1", "retreatment rotary 30/.04"),
        At(28, ChairsideMark.LengthReached, "MB1"),
        At(29, ChairsideMark.RemovalComplete, "MB1"),
        At(29.5, ChairsideMark.RemovalStart, "DB"),
        Step(30, "DB", "retreatment rotary 30/.04"),
        new EventHappened(1, Nine.AddMinutes(31), "DB", ProceduralEvent.SeparatedInstrument, new Millimetres(2.5), new LengthReading(new ReferencePoint("distobuccal cusp", 1), LengthEnd.FileStop, new Millimetres(16.5), LengthSource.InstrumentStop), "the patient", Nine.AddMinutes(33), "bypassed with a hand file 10"),
        At(33, ChairsideMark.LengthReached, "DB"),
        At(37, ChairsideMark.RemovalComplete, "DB"),
        Step(38, "MB1", "adaptive-core finishing file"),
        new SeenByEye(1, Nine.AddMinutes(50), "MB1", FillingSeen: true, "palatal", new Millimetres(15)),
        At(67, ChairsideMark.ShapingEnd),
        At(93, ChairsideMark.Left),
    ];

    public static FinishNote Finish { get; } = new(
        "articaine, one cartridge",
        "rubber dam",
        [
            new IrrigantUse("sodium hypochlorite", 3, 21, 18.5, "ultrasonically activated"),
            new IrrigantUse("EDTA", 17, 3.5, 1, null),
        ],
        [
            new CanalFinish("MB1", new Millimetres(19.5), "mesiobuccal cusp", "35/.04", "35/.04", "single cone"),
            new CanalFinish("MB2", new Millimetres(18.75), "mesiobuccal cusp", "30/.04", "30/.04", "single cone"),
            new CanalFinish("DB", new Millimetres(19), "distobuccal cusp", "30/.06", "30/.06", "single cone"),
        ],
        null,
        "glass ionomer",
        "calcium-silicate sealer",
        "L-4711",
        "flowable composite, 2 mm",
        null,
        "Chew on the other side until the tooth is restored.",
        new DateOnly(2026, 3, 5),
        "Dr B. Sample, a crown that covers the cusps",
        new DateOnly(2026, 4, 1),
        Finished: true);

    public static Assessment Assessment { get; } = Assessment.Start with
    {
        Apical = ApicalDiagnosis.SymptomaticPeriodontitis,
        Previous = new PreviousTreatment(2016, OldFilling.GuttaPercha, null, "composite", "another practice"),
        Roots = [new RootFinding("MB", 4, new Millimetres(3.5), null)],
    };

    /// <summary>The case, from any events after its opening.</summary>
    public static DentalCase Case(params IReadOnlyList<CaseEvent> events) => DentalCase.From(new CaseId(new string('0', 32)), [Opened, .. events]);

    public static DentalCase Finished { get; } = Case([new ToothAssessed(Assessment), new CanalsNoted(Canals), .. Visit, new FinishNoted(1, Finish)]);

    /// <summary>What the letter of a case is made from, with drawn films unless told otherwise.</summary>
    public static LetterFacts Facts(DentalCase dental, bool withFilms = true)
    {
        var (request, comparison) = InventedComparison.Films(
            [InventedComparison.Plain, new InventedCanal("DB") { Whole = InventedCanal.Share(1, -4, 6), Thirds = InventedComparison.Thirds((1, -4, 6), (2, -7, 11), (0, -3, 4)) }],
            InventedComparison.Scale);
        return new LetterFacts(dental, Clinic, Day, Zone, withFilms ? new LetterFilms(request, comparison) : null);
    }

    public static MomentMarked At(double minute, ChairsideMark mark, string? canal = null) => new(1, Nine.AddMinutes(minute), mark, canal);

    private static StepDone Step(double minute, string canal, string instrument) => new(1, Nine.AddMinutes(minute), canal, instrument, null, null, null, null);

    private static CanalRecord Canal(string name, string root, CanalFilling filling, double? toEnd) => new(
        name, root, null, null, Found: true, filling, toEnd is { } distance ? new Millimetres(distance) : null, null, CanalIntent.Retreat, [], [], FoundLater: false);
}
