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

    /// <summary>Weight of a level on a side that another canal's filling takes up: next to nothing, so that its neighbours decide.</summary>
    private const double LeastTrust = 0.02;

    /// <summary>Fewer pixels of a band than this say nothing.</summary>
    private const int LeastOfBand = 2;

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
        OfAnother = new bool[levels, Columns];
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

    /// <summary>Where another canal's filling lies.</summary>
    public bool[,] OfAnother { get; }

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
    /// <param name="before">Grey values of the film before.</param>
    /// <param name="after">Of the film after.</param>
    /// <param name="branch">The branch.</param>
    /// <param name="rods">Its filling.</param>
    /// <param name="map">From the film before to the film after.</param>
    /// <param name="shifts">How much further the branch has moved.</param>
    /// <param name="grey">From greys after to greys before.</param>
    /// <param name="curve">From greys before to the straight scale.</param>
    /// <param name="ofAnother">Whether a place of the film before is covered by another canal's filling.</param>
    public static CanalStrips Make(
        GreyImage before,
        GreyImage after,
        TracedBranch branch,
        RodCourse rods,
        PlaneMap map,
        LocalShifts shifts,
        GreyMatch grey,
        CharacteristicCurve curve,
        Func<PixelPoint, bool> ofAnother)
    {
        var first = (int)Math.Ceiling(branch.OwnFromPixels);
        var last = (int)Math.Floor(Math.Min(branch.Path.LengthPixels + 60, rods.LastLevel));
        var reach = (int)Math.Ceiling(rods.GreatestReach(first, last) + SideGapPixels(rods.BlurPixels) + (2 * SideBandPixels));
        var strips = new CanalStrips(branch, rods, first, Math.Max(0, last - first + 1), reach);
        Parallel.For(0, strips.Levels, row => strips.Fill(before, after, map, shifts, grey, curve, ofAnother, row));
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

    private void Fill(GreyImage before, GreyImage after, PlaneMap map, LocalShifts shifts, GreyMatch grey, CharacteristicCurve curve, Func<PixelPoint, bool> ofAnother, int row)
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
            OfAnother[row, column] = ofAnother(place);
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

        double[][] trust = [new double[Levels], new double[Levels]];
        var bulges = new double[Levels];
        var bulgeTrust = new double[Levels];
        for (var row = 0; row < Levels; row++)
        {
            var rod = Rods.At(FirstLevel + row);
            var edge = rod.RadiusPixels + SideGapPixels(Rods.BlurPixels);
            var left = ReadBand(row, rod.CentrePixels + edge, +1);
            var right = ReadBand(row, rod.CentrePixels - edge, -1);

            // A side that another canal's filling takes up is taken to be as the other side.
            (sides[0][row], sides[2][row]) = left.Free > 0 ? (left.Before, left.After) : (right.Before, right.After);
            (sides[1][row], sides[3][row]) = right.Free > 0 ? (right.Before, right.After) : (left.Before, left.After);
            trust[0][row] = Math.Max(left.Free, LeastTrust);
            trust[1][row] = Math.Max(right.Free, LeastTrust);
            (bulges[row], bulgeTrust[row]) = Bulge(row, rod.CentrePixels, edge, left, right);
        }

        double ground = 0;
        for (var k = 0; k < 4; k++)
        {
            var weights = trust[k % 2];
            var smooth = Penalised.Smooth(sides[k], weights, 400);
            if (k < 2)
            {
                ground += Enumerable.Range(0, Levels).Sum(row => weights[row] * Math.Pow(sides[k][row] - smooth[row], 2)) / weights.Sum() / 2;
            }

            sides[k] = smooth;
        }

        bulges = Penalised.Smooth(bulges, bulgeTrust, 4000);
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
    private (double Bulge, double Trust) Bulge(int row, double centre, double edge, Band left, Band right)
    {
        var farLeft = ReadBand(row, centre + edge + SideBandPixels, +1);
        var farRight = ReadBand(row, centre - edge - SideBandPixels, -1);
        var free = Math.Min(Math.Min(left.Free, right.Free), Math.Min(farLeft.Free, farRight.Free));
        if (free <= 0)
        {
            return (0, LeastTrust * LeastTrust);
        }

        var nearAt = edge + (SideBandPixels / 2.0);
        var farAt = nearAt + SideBandPixels;
        var bulge = (left.Before + right.Before - farLeft.Before - farRight.Before) / 2 / ((farAt * farAt) - (nearAt * nearAt));
        return (Math.Clamp(bulge, 0, GreatestBulge * Rods.GreyPerPixel), free);
    }

    private Band ReadBand(int row, double edge, int side)
    {
        double before = 0, after = 0;
        var count = 0;
        for (var k = 0; k < SideBandPixels; k++)
        {
            var column = Reach - (int)Math.Round(edge + (side * k), MidpointRounding.AwayFromZero);
            if (column >= 0 && column < Columns && !OfAnother[row, column])
            {
                before += Before[row, column];
                after += After[row, column];
                count++;
            }
        }

        return count < LeastOfBand ? default : new Band(before / count, after / count, count / (double)SideBandPixels);
    }

    /// <summary>Mean greys of a band beside a filling on both films, and the share of it that no other canal's filling covers.</summary>
    private readonly record struct Band(double Before, double After, double Free);
}
