using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>
/// Tells a canal whose marks run beside a filling from one whose marks lie on it, and draws the former's path through its marks: a second canal
/// that was missed lies beside the filling of the first, and the way along that filling is the cheapest.
/// </summary>
/// <remarks>What the film shows is the filling; that the canal lies beside it, only the marks say. Limits chosen on simulated films of seeds 3000 to 3159.</remarks>
internal static class OwnWay
{
    /// <summary>Marks from which they are heard against the film: two only say where a canal begins and ends.</summary>
    private const int LeastMarks = 3;

    /// <summary>Standard deviation of a mark across a canal, in pixels.</summary>
    private const double MarkDeviationPixels = 2.3;

    /// <summary>How many standard deviations of their mean the marks must lie aside.</summary>
    private const double LeastDeviations = 3.5;

    /// <summary>How far aside the other canal's own marks may lie, as a share of how far these do: where both lie aside, both fillings are seen as one.</summary>
    private const double MostOfOther = 0.3;

    /// <summary>How far the middle of what is taken for this canal's filling may lie from that of the other's to be the same, in pixels.</summary>
    private const double SamePixels = 3;

    /// <summary>Share of the way along which both must be the same filling.</summary>
    private const double LeastSameShare = 0.5;

    /// <summary>How much lighter it must be there, as a share of what the filling stands out by: 0.02 at most beside an unfilled canal, nearly always more where both are filled.</summary>
    private const double LeastLighter = 0.025;

    /// <summary>How far off a path through marks a filling may lie to be taken for its own, in pixels.</summary>
    private const double OwnFillingPixels = 2.5;

    /// <summary>What such a filling must stand out by, as a share of the one beside it.</summary>
    private const double LeastStrengthShare = 0.5;

    /// <summary>How far from a filling's edge its shadow and the ground beside it are looked at, in pixels.</summary>
    private const double NearPixels = 12;

    /// <summary>How far a filling's course is carried on beyond its ends, in pixels: canals are longer than their fillings.</summary>
    private const double BeyondPixels = 200;

    private const double CourseStiffness = 120;

    private const double SpacingPixels = 2;

    /// <summary>Whether the marks lie beside the filling along which the path runs: on one side of it, outside its edge.</summary>
    /// <param name="pins">The marks, orifice first.</param>
    /// <param name="path">The path.</param>
    /// <param name="rods">The filling along it.</param>
    public static bool MarksLieBeside(IReadOnlyList<Pin> pins, CanalPath path, RodProfile rods)
    {
        if (pins.Count < LeastMarks)
        {
            return false;
        }

        var aside = new List<(double Offset, double Radius)>();
        for (var i = 0; i < pins.Count; i++)
        {
            var (level, offset) = Aside(path, pins[i].At);
            var index = rods.IndexAt(level);
            if (rods.Filled[index])
            {
                aside.Add((offset - rods.Rods[index].CentrePixels, rods.Rods[index].RadiusPixels));
            }
            else if (i > 0 && i < pins.Count - 1)
            {
                return false;
            }
        }

        return IsAside([.. aside.Select(mark => mark.Offset)]) && aside.Average(mark => Math.Abs(mark.Offset) - mark.Radius) > 0;
    }

    /// <summary>Whether the filling that a canal was traced along is another's: both were traced along it, and only the other's marks lie on it.</summary>
    /// <param name="own">The canal.</param>
    /// <param name="ownPins">Its marks.</param>
    /// <param name="other">The other canal.</param>
    /// <param name="otherPins">The other's marks.</param>
    /// <param name="image">Grey values; filling is brighter than dentine.</param>
    public static bool IsOthers(CanalTracer.TracedWithRods own, IReadOnlyList<Pin> ownPins, CanalTracer.TracedWithRods other, IReadOnlyList<Pin> otherPins, Func<GreyImage> image)
    {
        if (ownPins.Count < LeastMarks || !RunsAlong(own, other))
        {
            return false;
        }

        var course = Course(other.Branch.Path, other.Rods[0]);
        double[] OffsetsOf(IReadOnlyList<Pin> pins) => [.. pins.Select(pin => Aside(course, pin.At).Offset)];
        var ours = OffsetsOf(ownPins);
        return IsAside(ours)
            && Math.Abs(OffsetsOf(otherPins).Average()) < MostOfOther * Math.Abs(ours.Average())
            && !StandsOutTowards(Through(ownPins, other.Branch.Path, other.Rods[0]), other, image());
    }

    /// <summary>The path through the marks: between them it runs as the filling beside it does, whose way the film shows.</summary>
    /// <param name="pins">The marks, orifice first.</param>
    /// <param name="beside">The path along that filling.</param>
    /// <param name="rods">The filling.</param>
    public static CanalPath Through(IReadOnlyList<Pin> pins, CanalPath beside, RodProfile rods)
    {
        var course = Course(beside, rods);
        var marks = pins.Select(pin => Aside(course, pin.At)).ToArray();
        var points = new List<PixelPoint>();
        for (var i = 1; i < marks.Length; i++)
        {
            var (from, to) = (marks[i - 1], marks[i]);
            var steps = Math.Max(3, (int)(Math.Abs(to.Level - from.Level) / SpacingPixels));
            for (var step = i == 1 ? 0 : 1; step <= steps; step++)
            {
                var share = (double)step / steps;
                var level = from.Level + (share * (to.Level - from.Level));
                var along = course.DirectionAt(level, 10);
                points.Add(course.At(level) + (new PixelPoint(along.Y, -along.X) * (from.Offset + (share * (to.Offset - from.Offset)))));
            }
        }

        return new CanalPath([pins[0].At, .. points.Skip(1).SkipLast(1), pins[^1].At]);
    }

    /// <summary>The rods along a path through marks that are a filling of its own: on the path, away from the filling beside it, and nearly as strong.</summary>
    /// <param name="rods">Rods along the path.</param>
    /// <param name="path">The path through the marks.</param>
    /// <param name="beside">The path along the filling beside it.</param>
    /// <param name="ofOther">That filling.</param>
    public static RodProfile OwnFilling(RodProfile rods, CanalPath path, CanalPath beside, RodProfile ofOther)
    {
        var least = LeastStrengthShare * ofOther.UsualContrast;
        return rods.Only(i => Math.Abs(rods.Rods[i].CentrePixels) < OwnFillingPixels && rods.Rods[i].Contrast(rods.BlurPixels) > least && !IsNear(path.At(rods.LevelsPixels[i])));

        bool IsNear(PixelPoint place)
        {
            var (level, offset) = Aside(beside, place);
            var index = ofOther.IndexAt(level);
            return Math.Abs(offset - ofOther.Rods[index].CentrePixels) < ofOther.Rods[index].RadiusPixels + NearPixels;
        }
    }

    // The middle of the filling from its first to its last level, carried on straight at both ends.
    private static CanalPath Course(CanalPath path, RodProfile rods)
    {
        var (first, last) = (Array.FindIndex(rods.Filled, filled => filled), Array.FindLastIndex(rods.Filled, filled => filled));
        double[] weights = [.. Enumerable.Range(first, last - first + 1).Select(i => rods.Filled[i] ? 1.0 : 0)];
        var middles = Enumerable.Range(first, last - first + 1).Select(i => rods.MiddleOn(path, i)).ToArray();
        var x = Penalised.Smooth([.. middles.Select(at => at.X)], weights, CourseStiffness);
        var y = Penalised.Smooth([.. middles.Select(at => at.Y)], weights, CourseStiffness);
        var seen = new CanalPath([.. x.Zip(y, (across, down) => new PixelPoint(across, down))]);
        return new CanalPath([
            seen.Points[0] + (seen.DirectionAt(0, 20) * -BeyondPixels),
            .. seen.Points,
            seen.Points[^1] + (seen.DirectionAt(seen.LengthPixels, 20) * BeyondPixels)]);
    }

    /// <summary>Whether the filling's shadow is lighter towards a path beside it than as far on the other side: then a second filling lies there, and both are seen as one.</summary>
    private static bool StandsOutTowards(CanalPath path, CanalTracer.TracedWithRods other, GreyImage image)
    {
        const int AlongPixels = 2;
        var shares = new List<double>();
        var rods = other.Rods[0];
        for (var i = 0; i < rods.Filled.Length; i++)
        {
            var middle = rods.MiddleOn(other.Branch.Path, i);
            var along = other.Branch.Path.DirectionAt(rods.LevelsPixels[i], 6);
            var left = new PixelPoint(along.Y, -along.X);
            var there = path.At(FillingOverlap.NearestTo(path, middle).Level) - middle;
            var aside = (there.X * left.X) + (there.Y * left.Y);
            var rod = rods.Rods[i];
            if (rods.Filled[i] && Math.Abs(aside) >= SamePixels)
            {
                shares.Add((Mean(aside) - Mean(-aside) - (2 * aside * rod.BackgroundSlope)) / rod.Contrast(rods.BlurPixels));
            }

            double Mean(double offset) => Enumerable.Range(-AlongPixels, (2 * AlongPixels) + 1).Average(step => image.At(middle.X + (left.X * offset) + (along.X * step), middle.Y + (left.Y * offset) + (along.Y * step)));
        }

        return shares.Count > 0 && Ranks.Median([.. shares]) > LeastLighter;
    }

    private static bool IsAside(double[] offsets)
    {
        if (offsets.Length < 2 || offsets.Any(offset => Math.Sign(offset) != Math.Sign(offsets[0])))
        {
            return false;
        }

        return Math.Abs(offsets.Average()) > LeastDeviations * MarkDeviationPixels / Math.Sqrt(offsets.Length);
    }

    private static bool RunsAlong(CanalTracer.TracedWithRods own, CanalTracer.TracedWithRods other)
    {
        var (filled, same) = (0, 0);
        var rods = own.Rods[0];
        for (var i = 0; i < rods.Filled.Length; i++)
        {
            if (!rods.Filled[i])
            {
                continue;
            }

            filled++;
            var (level, offset) = Aside(other.Branch.Path, rods.MiddleOn(own.Branch.Path, i));
            var there = other.Rods[0].IndexAt(level);
            same += other.Rods[0].Filled[there] && Math.Abs(offset - other.Rods[0].Rods[there].CentrePixels) < SamePixels ? 1 : 0;
        }

        return filled > 0 && same >= LeastSameShare * filled;
    }

    /// <summary>The level of a path nearest to a place, and how far the place lies to the left of the way there, in pixels.</summary>
    private static (double Level, double Offset) Aside(CanalPath path, PixelPoint place)
    {
        var (level, _) = FillingOverlap.NearestTo(path, place);
        var along = path.DirectionAt(level, 6);
        var there = place - path.At(level);
        return (level, (there.X * along.Y) - (there.Y * along.X));
    }
}
