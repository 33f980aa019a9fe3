using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Radiographs.Trace;

/// <summary>Lengths, angles and signs along one traced branch.</summary>
internal static class BranchMeasurer
{
    /// <summary>Standard deviation of where a click puts the end of a canal, in pixels.</summary>
    private static readonly double ClickDeviationPixels = DrawnOnFilms.ClickDeviationPixels.Value;

    /// <summary>Half interval that canals, which are no exact arcs, add to an angle, in degrees; measured on simulated films.</summary>
    private const double AngleBeyondFitDegrees = 3;

    /// <summary>The same for the angle after Pruett, both of whose sides may be short.</summary>
    private const double TurnBeyondFitDegrees = 3;

    /// <summary>The same for a radius, as a share of it.</summary>
    private const double RadiusBeyondFitShare = 0.05;

    /// <summary>Half interval from which an angle after Schneider says nothing any more, in degrees: more than a class of his.</summary>
    private const double MostAngleHalfInterval = 15;

    /// <summary>Half interval from which a radius is not given, as a share of it: wider ones come of an arc that lies half beyond its filling, and err by an eighth.</summary>
    private const double MostRadiusHalfShare = 0.15;

    /// <summary>Why a curve is not given where the path is too uncertain for it.</summary>
    private const string PathUncertain = "The canal's path is not certain enough for it: another filling lies over it, or too little of it is filled; a film from another angle, or marks between, can show it.";

    public static BranchMeasures Measure(
        CanalPath path,
        FillingProfile filling,
        RodProfile rods,
        IReadOnlyList<double> pathDeviationsPixels,
        Calibration? scale)
    {
        var millimetres = scale?.MillimetresPerPixel;
        var lengthDeviation = LengthDeviation(path.LengthPixels, scale?.DeviationShare ?? DrawnOnFilms.ScaleDeviationShare.Value);
        var spacing = rods.SpacingPixels;
        var filledTo = filling.FilledToPixels?.Value;
        var filledPixels = filledTo is null ? 0 : FilledPixels(rods, filledTo.Value, spacing);
        var inside = Math.Min(filledPixels, path.LengthPixels);
        var (schneider, pruett) = Curves(path, filling, pathDeviationsPixels, millimetres);
        return new BranchMeasures(
            path.LengthPixels,
            InMillimetres(path.LengthPixels, lengthDeviation, millimetres),
            InMillimetres(filledPixels, Math.Sqrt(Math.Pow(lengthDeviation, 2) + 4), millimetres),
            100 * inside / path.LengthPixels,
            filling.FilledToPixels is { } end && millimetres is { } size ? EndToEnd(path, end, size) : null,
            schneider,
            pruett,
            null,
            [])
        {
            WhyNoOffCentre = OffCentreFinder.NeedsScale,
            WhyNoSchneider = WhyNone(schneider),
        };
    }

    /// <summary>The measures with angles and radius taken anew, because the path is less certain than it seemed.</summary>
    public static BranchMeasures WithCurves(BranchMeasures measures, CanalPath path, FillingProfile filling, IReadOnlyList<double> pathDeviationsPixels, double? millimetresPerPixel)
    {
        var (schneider, pruett) = Curves(path, filling, pathDeviationsPixels, millimetresPerPixel);
        return measures with { SchneiderDegrees = schneider, WhyNoSchneider = WhyNone(schneider), Pruett = pruett };
    }

    private static string? WhyNone(Estimate? schneider) => schneider is null ? PathUncertain : null;

    private static (Estimate? Schneider, PruettCurve Pruett) Curves(CanalPath path, FillingProfile filling, IReadOnlyList<double> pathDeviationsPixels, double? millimetresPerPixel)
    {
        var curve = CanalCurve.FitFilling(path, filling, pathDeviationsPixels);
        var schneider = curve.SchneiderDegrees;
        var half = Wider(schneider.HalfInterval, AngleBeyondFitDegrees);
        return (half > MostAngleHalfInterval ? null : AtLeastZero(schneider.Value, half), Pruett(curve, millimetresPerPixel));
    }

    private static double LengthDeviation(double lengthPixels, double ofScale) =>
        Math.Sqrt((2 * ClickDeviationPixels * ClickDeviationPixels) + Math.Pow(ofScale * lengthPixels, 2));

    private static double FilledPixels(RodProfile rods, double filledTo, double spacing)
    {
        var levels = rods.Filled.Zip(rods.LevelsPixels).Where(pair => pair.First).Select(pair => pair.Second).ToArray();
        var whole = levels.Count(level => level + (0.5 * spacing) <= filledTo) * spacing;
        return Math.Max(whole, 0) + Math.Max(0, filledTo - levels[^1]) - (levels[0] <= 0 ? 0.5 * spacing : 0);
    }

    private static Estimate? InMillimetres(double pixels, double deviationPixels, double? millimetresPerPixel) =>
        millimetresPerPixel is null
            ? null
            : Estimate.Within(pixels * millimetresPerPixel.Value, 1.96 * deviationPixels * millimetresPerPixel.Value);

    private static Estimate AtLeastZero(double value, double halfInterval) =>
        new(value, new Interval(Math.Max(0, value - halfInterval), value + halfInterval));

    private static double Wider(double halfInterval, double beyond) => Math.Sqrt((halfInterval * halfInterval) + (beyond * beyond));

    /// <summary>From the filling's end to the canal's end in mm: short is positive, beyond is negative.</summary>
    public static Estimate EndToEnd(CanalPath path, Estimate filledToPixels, double millimetresPerPixel)
    {
        var canalEnd = 1.96 * ClickDeviationPixels;
        var value = path.LengthPixels - filledToPixels.Value;
        var shorter = double.Hypot(filledToPixels.Interval.High - filledToPixels.Value, canalEnd);
        var longer = double.Hypot(filledToPixels.Value - filledToPixels.Interval.Low, canalEnd);
        return new Estimate(value * millimetresPerPixel, new Interval((value - shorter) * millimetresPerPixel, (value + longer) * millimetresPerPixel));
    }

    private static PruettCurve Pruett(CanalCurve curve, double? millimetresPerPixel)
    {
        var angle = curve.PruettDegrees;
        var leastTurn = MeasurementLimits.LeastTurn.Value;
        if (angle.Value < leastTurn)
        {
            return new PruettCurve(null, null, string.Create(
                CultureInfo.InvariantCulture,
                $"The canal turns by {angle.Value:0.#}°, less than the {leastTurn:0}° from which this method is used."));
        }

        var half = Wider(angle.HalfInterval, TurnBeyondFitDegrees);
        if (half > MostAngleHalfInterval)
        {
            return new PruettCurve(null, null, PathUncertain);
        }

        var turn = new Estimate(angle.Value, new Interval(Math.Max(0, angle.Value - half), angle.Value + Wider(half, curve.UnseenTurnDegrees)));
        if (millimetresPerPixel is not { } scale)
        {
            return new PruettCurve(turn, null, "A radius needs the film's scale.");
        }

        var sagitta = curve.SagittaPixels * scale;
        var least = MeasurementLimits.LeastSagitta.Value;
        if (sagitta < least)
        {
            return new PruettCurve(null, null, string.Create(
                CultureInfo.InvariantCulture,
                $"The curve rises {sagitta:0.00} mm over its chord, less than the {least:0.00} mm from which this method is used."));
        }

        var radius = curve.PruettRadiusPixels;
        var halfRadius = Wider(radius.HalfInterval, RadiusBeyondFitShare * radius.Value);
        return halfRadius > MostRadiusHalfShare * radius.Value
            ? new PruettCurve(turn, null, PathUncertain)
            : new PruettCurve(turn, AtLeastZero(radius.Value * scale, halfRadius * scale), null);
    }
}
