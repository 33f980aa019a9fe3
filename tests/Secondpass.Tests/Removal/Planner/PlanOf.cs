using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Removal.Planner;

namespace Secondpass.Tests.Removal.Planner;

/// <summary>Requests to change one thing in.</summary>
internal static class PlanOf
{
    public static readonly ReferencePoint Cusp = new("mesiobuccal cusp", 1);

    /// <summary>A straight canal of 20 mm, its length read on a film, filled to 1 mm short.</summary>
    public static CanalRecord Canal(string name = "MB1") => new(
        name, "MB", null, null, Found: true, CanalFilling.Filled, Mm(1), null, CanalIntent.Retreat, [], [Length(LengthEnd.RadiographicApex, 20, LengthSource.Film)], FoundLater: false);

    public static PlanRequest Request(params CanalRecord[] canals) => new(
        null,
        new TakeDown(null, null, null),
        OldFilling.GuttaPercha,
        canals.Length == 0 ? [Canal()] : canals,
        new Dictionary<string, CanalMeasures>(),
        new Dictionary<string, CanalChoice>(),
        ShippedSequences.Example,
        ShippedKinds.All,
        [],
        null,
        SolventPreference.None,
        ResinFollows: false,
        PlanLimits.Default);

    public static PlanRequest Measured(this PlanRequest request, string canal, CanalMeasures measures) =>
        request with { Measures = new Dictionary<string, CanalMeasures>(request.Measures) { [canal] = measures } };

    public static RemovalPlan Planned(this PlanRequest request) => RemovalPlanner.Plan(request).Value;

    public static RemovalStep Step(this RemovalPlan plan, string kind, string branch = "MB1") =>
        plan.Steps.Single(step => step.KindCode == kind && step.Branch == branch);

    /// <summary>Widths of a cone, every half millimetre up to 14 mm from the end.</summary>
    public static CanalMeasures Cone(double tip, double taper, params WallAtLevel[] walls) => new(
        Mm(14),
        [.. Enumerable.Range(0, 29).Select(i => new WidthAtLevel(Mm(i * 0.5), Mm(tip + (taper * i * 0.5)), null))],
        walls,
        null);

    public static WallAtLevel Wall(double fromEnd, double thickness) => new(Mm(fromEnd), "distal", Mm(thickness), default, WallSource.ConeBeamScan);

    public static LengthReading Length(LengthEnd to, double millimetres, LengthSource source = LengthSource.LengthMeter) => new(Cusp, to, Mm(millimetres), source);

    public static Millimetres Mm(double millimetres) => new(millimetres);
}
