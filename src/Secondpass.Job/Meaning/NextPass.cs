using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Documents;
using Secondpass.Job.Plans;
using Secondpass.Removal.Planner;

namespace Secondpass.Job.Meaning;

/// <summary>What is answered to "is another pass worth it?".</summary>
public enum PassAnswer
{
    /// <summary>An instrument of the tray reaches the place and touches the wall there.</summary>
    Reaches,

    /// <summary>Only a pre-curved ultrasonic file does.</summary>
    ReachesPreCurved,

    /// <summary>An instrument reaches a part of the place; the rest none does.</summary>
    ReachesPart,

    /// <summary>No instrument of the tray does.</summary>
    NoneReaches,

    /// <summary>No place is seen on this film: another pass would be blind.</summary>
    Blind,

    /// <summary>What is seen may be a dressing.</summary>
    MayBeDressing,

    /// <summary>The films or the record don't say enough.</summary>
    NotKnown,
}

/// <summary>A place where filling is seen, and what reaches it.</summary>
/// <param name="Answer">The answer.</param>
/// <param name="Words">The answer in words.</param>
/// <param name="Place">The place in words; null where none is seen.</param>
/// <param name="FromEndMillimetres">Its levels from the canal's end; null where none is seen or without a scale.</param>
/// <param name="AreaSquareMillimetres">Its projected area; null where none is seen or without a scale.</param>
/// <param name="Instrument">The code of the instrument named; null for none.</param>
/// <param name="StopFromEnd">Its stop; null for none.</param>
/// <param name="Why">What the answer rests on, in sentences.</param>
public sealed record PlaceAnswer(
    PassAnswer Answer,
    string Words,
    string? Place,
    Interval? FromEndMillimetres,
    double? AreaSquareMillimetres,
    string? Instrument,
    Millimetres? StopFromEnd,
    IReadOnlyList<string> Why);

/// <summary>One canal's answer: for the largest place of residue first, then for the others.</summary>
/// <param name="Canal">The branch's name.</param>
/// <param name="Next">The one answer that is shown largest.</param>
/// <param name="Others">The other places, the largest first.</param>
public sealed record CanalNextPass(string Canal, PlaceAnswer Next, IReadOnlyList<PlaceAnswer> Others);

/// <summary>Is another pass worth it? Joins where filling is seen with what the tray reaches. Never asks for another film.</summary>
public static class NextPass
{
    private const string PreCurved = " (pre-curved, where its tip is seen)";

    /// <summary>What the answers are worth, said with them.</summary>
    public const string Basis = "By geometry: the canal taken round and as wide as its old filling on the film before, which it may exceed by now; what lies towards or away from you is not seen. How the canal curves sets no stop; strong curves are said. Whether a pass is worth its dentine is your judgement.";

    /// <summary>Answers for every branch that has a result or may hold a dressing.</summary>
    /// <param name="compared">Films, marks and state.</param>
    /// <param name="comparison">What is left.</param>
    /// <param name="tooth">The tooth; null when not said.</param>
    /// <param name="tray">Instruments and what else is known.</param>
    public static IReadOnlyList<CanalNextPass> Of(ComparisonRequest compared, Comparison comparison, ToothNumber? tooth, PassTray tray)
    {
        ArgumentNullException.ThrowIfNull(compared);
        ArgumentNullException.ThrowIfNull(comparison);
        ArgumentNullException.ThrowIfNull(tray);
        var inputs = Inputs(compared, comparison, tooth, tray);
        return [.. comparison.Branches.Select(branch => Of(compared, branch, inputs, tray)).OfType<CanalNextPass>()];
    }

    private static CanalNextPass? Of(ComparisonRequest compared, BranchResidue residue, Answer<PlanInputs> inputs, PassTray tray)
    {
        var name = residue.Branch.Name;
        if (compared.StateOf(name) == AfterState.Dressing)
        {
            return Alone(name, PassAnswer.MayBeDressing, "What is seen may be dressing or paste: this film is no reason for another pass.");
        }

        if (residue.Refused is not null || (residue.Whole?.MassPercent ?? residue.Whole?.AreaPercent) is not { } share)
        {
            return null;
        }

        var interval = ResidueWords.PercentInterval(share.Interval);
        var none = share.Interval.Low <= 0 ? $" The interval includes none ({interval})." : string.Empty;
        var patches = ResiduePatches.Of(residue.Strip)
            .Where(patch => patch.AreaSquarePixels >= residue.DetectionLimitSquarePixels)
            .OrderByDescending(patch => patch.AreaSquarePixels)
            .ToList();
        if (patches.Count == 0)
        {
            return share.Interval.Low <= 0
                ? Alone(name, PassAnswer.Blind, $"Below what this film can show: another pass would be blind.{none}")
                : Alone(name, PassAnswer.Blind, $"Something is left ({interval}), nowhere in a patch that this film can show: another pass would be blind.");
        }

        if (compared.BeforeScale is not { } scale)
        {
            return Alone(name, PassAnswer.NotKnown, $"Not judged without a scale.{none}", "Without a scale no level is known in mm. Measure something of known length on the film before.");
        }

        var answers = patches.Select(patch => Of(residue, patch, scale, inputs, tray, none)).ToList();
        return new CanalNextPass(name, answers[0], answers[1..]);
    }

    private static CanalNextPass Alone(string canal, PassAnswer answer, string words, params IReadOnlyList<string> why) =>
        new(canal, new PlaceAnswer(answer, words, null, null, null, null, null, why), []);

    private static PlaceAnswer Of(BranchResidue residue, ResiduePatch patch, Calibration scale, Answer<PlanInputs> inputs, PassTray tray, string none)
    {
        var millimetres = scale.MillimetresPerPixel;
        var end = residue.Branch.Path.LengthPixels;
        var (deep, high) = ((end - patch.ToPixels) * millimetres, (end - patch.FromPixels) * millimetres);
        var area = patch.AreaSquarePixels * millimetres * millimetres;
        var third = CanalThirds.Of((patch.FromPixels + patch.ToPixels) / 2, end);
        var place = high <= 0
            ? string.Create(CultureInfo.InvariantCulture, $"Beyond the end, {area:0.00} mm²")
            : string.Create(CultureInfo.InvariantCulture, $"{Capital(ResidueWords.Name(third))} third, {Math.Max(0, deep):0.0}–{high:0.0} mm from the end, {area:0.00} mm²");
        if (high <= 0)
        {
            return Answered(PassAnswer.NoneReaches, "No instrument goes beyond the end: what lies there is not for another pass.", []);
        }

        if (!inputs.TryGet(out var ready, out var impossible))
        {
            return Answered(PassAnswer.NotKnown, $"What reaches it is not judged. {impossible.Reason} {impossible.Remedy}", []);
        }

        var reaches = PassReach.Of(ready.Request, residue.Branch.Name, tray.Kinds, Math.Max(0, deep), high);
        if (reaches.Count == 0)
        {
            return tray.Kinds.Count == 0
                ? Answered(PassAnswer.NotKnown, "What reaches it is not judged: no instruments are entered. Enter them under Instruments.", [])
                : Answered(PassAnswer.NotKnown, "What reaches it is not judged: the filling's width there is not known from the film before.", []);
        }

        var best = Best(reaches);
        var why = Why(residue, reaches, best, tray);
        return best switch
        {
            null => Answered(PassAnswer.NoneReaches, "No instrument of this tray reaches it.", why),
            { TouchesAll: false } => Answered(
                PassAnswer.ReachesPart,
                string.Create(CultureInfo.InvariantCulture, $"{Named(best)}{(best.Kind.Sort == InstrumentSort.UltrasonicFile ? PreCurved : string.Empty)} reaches it from {best.TouchedFromEndMillimetres!.Value.Low:0.0} mm from the end upwards: {Stop(best)}. No instrument of this tray reaches the rest."),
                why,
                best),
            { Kind.Sort: InstrumentSort.UltrasonicFile } => Answered(PassAnswer.ReachesPreCurved, $"Reached only by the {Named(best)}{PreCurved}: {Stop(best)}.", why, best),
            _ => Answered(PassAnswer.Reaches, $"{Capital(Named(best))} reaches it: {Stop(best)}.", why, best),
        };

        PlaceAnswer Answered(PassAnswer answer, string words, IReadOnlyList<string> reasons, KindReach? by = null) => new(
            answer,
            Capital(words) + none,
            place,
            new Interval(deep, high),
            area,
            by?.Kind.Code,
            by?.StopFromEnd,
            reasons);
    }

    // What reaches the whole place before what reaches a part; a file led blind into the depth last; then the least dentine; then the tray's order.
    private static KindReach? Best(IReadOnlyList<KindReach> reaches) => reaches
        .Where(reach => reach.StopFromEnd is not null)
        .OrderByDescending(reach => reach.TouchesAll)
        .ThenBy(reach => reach.TouchesAll ? 0 : reach.TouchedFromEndMillimetres!.Value.Low)
        .ThenBy(reach => reach.Kind.Sort == InstrumentSort.UltrasonicFile)
        .ThenBy(reach => reach.DentineCutCubicMillimetres ?? 0)
        .FirstOrDefault();

    private static List<string> Why(BranchResidue residue, IReadOnlyList<KindReach> reaches, KindReach? best, PassTray tray)
    {
        var why = new List<string> { $"Asked of {tray.Called}." };
        if (best is not null)
        {
            why.Add($"{Capital(Named(best))} goes no deeper: {best.Limit}");
            if (best.Kind.ExpandedDiameter is { } opened)
            {
                why.Add(string.Create(CultureInfo.InvariantCulture, $"It is taken to open to {opened.Value:0.0} mm at most. {best.Kind.Basis}"));
            }
        }

        foreach (var reach in reaches.Where(reach => reach != best))
        {
            why.Add(reach switch
            {
                { StopFromEnd: null } => $"{Capital(Named(reach))} does not touch it. {reach.Limit}",
                { TouchesAll: false, TouchedFromEndMillimetres: { } touched } => string.Create(CultureInfo.InvariantCulture, $"{Capital(Named(reach))} touches it at {touched.Low:0.0}–{touched.High:0.0} mm from the end. {reach.Limit}"),
                { Contact: WallContact.Led } => $"{Capital(Named(reach))} reaches it too, led against the wall.",
                _ => $"{Capital(Named(reach))} reaches it too.",
            });
        }

        if (residue.Branch.Measures.SchneiderDegrees?.Value is { } angle && angle >= CurvatureFacts.Severe.Range!.Value.Low)
        {
            why.Add($"The canal curves {CurvatureClass.Of(new Degrees(angle)).InWords}.");
        }

        return why;
    }

    private static string Named(KindReach reach) => reach.Kind.Name;

    private static string Stop(KindReach reach) => reach is { StopFromReference: { } depth, Reference: { } reference }
        ? string.Create(CultureInfo.InvariantCulture, $"stop at {depth.Value:0.0} mm from the {reference}, {reach.StopFromEnd!.Value.Value:0.0} mm short of the end")
        : string.Create(CultureInfo.InvariantCulture, $"stop {reach.StopFromEnd!.Value.Value:0.0} mm short of the end");

    private static string Capital(string words) => words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];

    // The same inputs as a plan would be made from; a canal that the case doesn't list is taken as it was marked.
    private static Answer<PlanInputs> Inputs(ComparisonRequest compared, Comparison comparison, ToothNumber? tooth, PassTray tray)
    {
        var branches = comparison.Branches.Select(branch => branch.Branch).ToList();
        var below = branches.SelectMany(branch => branch.Branches).Select(branch => branch.Name).ToHashSet(StringComparer.Ordinal);
        List<TracedBranch> trunks = [.. branches.Where(branch => !below.Contains(branch.Name))];
        var listed = tray.Planning.Canals.Select(canal => canal.Name).ToHashSet(StringComparer.Ordinal);
        var planning = tray.Planning with { Canals = [.. tray.Planning.Canals, .. branches.Where(branch => !listed.Contains(branch.Name)).Select(branch => AsMarked(branch, branches))] };
        return PlanRemoval.Prepare(tooth, planning, new MeasuredFilm(compared.BeforeScale, trunks, MeasureDocument.From(trunks, compared.BeforeScale, [])), sequence: null);
    }

    private static CanalRecord AsMarked(TracedBranch branch, List<TracedBranch> all)
    {
        var parent = all.Find(other => other.Branches.Any(below => below.Name == branch.Name))?.Name;
        return new CanalRecord(
            branch.Name,
            branch.Name,
            parent,
            parent is null ? null : new CanalMeeting(Joins: false, null, MeetingPlane.Unknown),
            Found: true,
            CanalFilling.NotJudged,
            null,
            null,
            CanalIntent.Retreat,
            [],
            [],
            FoundLater: false);
    }
}
