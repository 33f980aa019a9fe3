using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Register;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Radiographs.Compare;

/// <summary>Both films straightened along one branch: rows are levels one pixel apart, columns are offsets from the path one pixel apart.</summary>
internal sealed class CanalStrips
{
    /// <summary>Width of the band beside the filling in which both films are made equal.</summary>
    public const int SideBandPixels = 9;

    /// <summary>
    /// How strongly a root's dentine can bulge over the middle of a canal: the shadow of a round root of 0.6 mm radius, dentine
    /// being a seventh of gutta-percha's contrast, in pixels of filling per square pixel.
    /// </summary>
    private const double GreatestBulge = 0.007;

    private CanalStrips(TracedBranch branch, RodCourse rods, int firstLevel, int levels, int reach)
    {
        Branch = branch;
        Rods = rods;
        FirstLevel = firstLevel;
        Levels = levels;
        Reach = reach;
        Before = new float[levels, Columns];
        After = new float[levels, Columns];
        Ground = new float[levels, Columns];
        WhiteBefore = new bool[levels, Columns];
        WhiteAfter = new bool[levels, Columns];
        Seen = new bool[levels];
    }

    public TracedBranch Branch { get; }

    public RodCourse Rods { get; }

    /// <summary>Level of the first row, in pixels from the orifice.</summary>
    public int FirstLevel { get; }

    /// <summary>Rows.</summary>
    public int Levels { get; }

    /// <summary>Columns on each side of the path.</summary>
    public int Reach { get; }

    public int Columns => (2 * Reach) + 1;

    /// <summary>Grey values of the film before, straightened.</summary>
    public float[,] Before { get; }

    /// <summary>Grey values of the film after, matched in place and grey.</summary>
    public float[,] After { get; }

    /// <summary>What the film before would show without the filling, read beside it.</summary>
    public float[,] Ground { get; }

    /// <summary>Where the film before is as white as it can be.</summary>
    public bool[,] WhiteBefore { get; }

    /// <summary>Where the film after is.</summary>
    public bool[,] WhiteAfter { get; }

    /// <summary>Whether the film after shows the level.</summary>
    public bool[] Seen { get; }

    /// <summary>Spread of the ground along neighbouring levels, in grey levels: how well it is known.</summary>
    public double GroundDeviation { get; private set; }

    /// <summary>Root mean square difference of the films beside the filling after matching, in grey levels.</summary>
    public double SideDifference { get; private set; }

    /// <summary>How far from the filling's edge the band beside it begins: beyond what blur spreads of the filling.</summary>
    /// <param name="blurPixels">Standard deviation of the film's blur, in pixels.</param>
    public static double SideGapPixels(double blurPixels) => (2.5 * blurPixels) + 1;

    /// <summary>Offset in pixels, positive to the left, of a column.</summary>
    public int OffsetOf(int column) => Reach - column;

    /// <summary>Straightens both films along a branch's own part.</summary>
    public static CanalStrips Make(
        GreyImage before,
        GreyImage after,
        TracedBranch branch,
        RodCourse rods,
        PlaneMap map,
        LocalShifts shifts,
        GreyMatch grey,
        CharacteristicCurve curve)
    {
        var first = (int)Math.Ceiling(branch.OwnFromPixels);
        var last = (int)Math.Floor(Math.Min(branch.Path.LengthPixels + 60, rods.LastLevel));
        var reach = (int)Math.Ceiling(rods.GreatestReach(first, last) + SideGapPixels(rods.BlurPixels) + (2 * SideBandPixels));
        var strips = new CanalStrips(branch, rods, first, Math.Max(0, last - first + 1), reach);
        Parallel.For(0, strips.Levels, row => strips.Fill(before, after, map, shifts, grey, curve, row));
        strips.MatchSides();
        return strips;
    }

    /// <summary>The place on the film before of a row and an offset from the path; beyond the end of the canal the path runs straight on.</summary>
    public PixelPoint PlaceOf(int row, double offset)
    {
        var level = FirstLevel + row;
        var path = Branch.Path;
        var along = path.DirectionAt(Math.Min(level, path.LengthPixels), 6);
        var at = level <= path.LengthPixels ? path.At(level) : path.At(path.LengthPixels) + (along * (level - path.LengthPixels));
        return at + (new PixelPoint(along.Y, -along.X) * offset);
    }

    private void Fill(GreyImage before, GreyImage after, PlaneMap map, LocalShifts shifts, GreyMatch grey, CharacteristicCurve curve, int row)
    {
        var shift = shifts.At(Math.Min(FirstLevel + row, Branch.Path.LengthPixels));
        var centre = map.Of(PlaceOf(row, 0) + shift);
        Seen[row] = centre.X >= 3 && centre.Y >= 3 && centre.X <= after.Width - 4 && centre.Y <= after.Height - 4;
        for (var column = 0; column < Columns; column++)
        {
            var place = PlaceOf(row, OffsetOf(column));
            var on = map.Of(place + shift);
            var stands = before.CubicAt(place.X, place.Y);
            var left = after.CubicAt(on.X, on.Y);
            WhiteBefore[row, column] = stands >= before.WhiteFrom;
            WhiteAfter[row, column] = left >= after.WhiteFrom;
            // Both are straightened after they are read between pixels: noise bends with a curve, and so it bends alike on both.
            Before[row, column] = (float)curve.Of(stands);
            After[row, column] = (float)curve.Of(grey.Of(left));
        }
    }

    /// <summary>Reads the ground beside the filling on both films, and lifts the film after to the film before there.</summary>
    private void MatchSides()
    {
        if (Levels < 3)
        {
            return;
        }

        var sides = new double[4][];
        for (var k = 0; k < 4; k++)
        {
            sides[k] = new double[Levels];
        }

        var bulges = new double[Levels];
        for (var row = 0; row < Levels; row++)
        {
            var rod = Rods.At(FirstLevel + row);
            var gap = SideGapPixels(Rods.BlurPixels);
            (sides[0][row], sides[2][row]) = Band(row, rod.CentrePixels + rod.RadiusPixels + gap, +1);
            (sides[1][row], sides[3][row]) = Band(row, rod.CentrePixels - rod.RadiusPixels - gap, -1);
            bulges[row] = Bulge(row, rod.CentrePixels, rod.RadiusPixels + gap, (sides[0][row] + sides[1][row]) / 2);
        }

        var weights = Enumerable.Repeat(1.0, Levels).ToArray();
        double ground = 0;
        for (var k = 0; k < 4; k++)
        {
            var smooth = Penalised.Smooth(sides[k], weights, 400);
            if (k < 2)
            {
                ground += sides[k].Zip(smooth, (raw, even) => Math.Pow(raw - even, 2)).Average() / 2;
            }

            sides[k] = smooth;
        }

        bulges = Penalised.Smooth(bulges, weights, 4000);
        GroundDeviation = Math.Sqrt(ground);
        double difference = 0;
        for (var row = 0; row < Levels; row++)
        {
            var rod = Rods.At(FirstLevel + row);
            var leftAt = rod.CentrePixels + rod.RadiusPixels;
            var rightAt = rod.CentrePixels - rod.RadiusPixels;
            var nearAt = rod.RadiusPixels + SideGapPixels(Rods.BlurPixels) + (SideBandPixels / 2.0);
            difference += (Math.Pow(sides[0][row] - sides[2][row], 2) + Math.Pow(sides[1][row] - sides[3][row], 2)) / 2;
            for (var column = 0; column < Columns; column++)
            {
                var share = Math.Clamp((OffsetOf(column) - rightAt) / Math.Max(1, leftAt - rightAt), -0.3, 1.3);
                var beforeGround = sides[1][row] + (share * (sides[0][row] - sides[1][row]));
                var afterGround = sides[3][row] + (share * (sides[2][row] - sides[3][row]));
                var fromCentre = OffsetOf(column) - rod.CentrePixels;
                Ground[row, column] = (float)(beforeGround + (bulges[row] * ((nearAt * nearAt) - (fromCentre * fromCentre))));
                After[row, column] += (float)(beforeGround - afterGround);
            }
        }

        SideDifference = Math.Sqrt(difference / Levels);
    }

    /// <summary>
    /// How much the ground rises towards the canal, in grey levels per square pixel: read from a nearer and a farther band on
    /// each side; a root is round, so that its dentine is thickest over the canal.
    /// </summary>
    private double Bulge(int row, double centre, double edge, double near)
    {
        var (left, _) = Band(row, centre + edge + SideBandPixels, +1);
        var (right, _) = Band(row, centre - edge - SideBandPixels, -1);
        var nearAt = edge + (SideBandPixels / 2.0);
        var farAt = nearAt + SideBandPixels;
        var bulge = (near - ((left + right) / 2)) / ((farAt * farAt) - (nearAt * nearAt));
        return Math.Clamp(bulge, 0, GreatestBulge * Rods.GreyPerPixel);
    }

    private (double Before, double After) Band(int row, double edge, int side)
    {
        double before = 0, after = 0;
        var count = 0;
        for (var k = 0; k < SideBandPixels; k++)
        {
            var column = Reach - (int)Math.Round(edge + (side * k), MidpointRounding.AwayFromZero);
            if (column >= 0 && column < Columns)
            {
                before += Before[row, column];
                after += After[row, column];
                count++;
            }
        }

        return (before / Math.Max(1, count), after / Math.Max(1, count));
    }
}
