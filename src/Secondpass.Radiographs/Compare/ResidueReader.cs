using Secondpass.Radiographs.Trace;

namespace Secondpass.Radiographs.Compare;

/// <summary>What is left at one level of a branch, in sums across the path.</summary>
/// <param name="Mass">Contrast of the filling before, summed across, in grey levels × pixels.</param>
/// <param name="Removed">Grey that the film after lost, summed across.</param>
/// <param name="Pixels">Pixels summed.</param>
/// <param name="Hidden">Part of the mass that the film before doesn't show, being white there: reckoned from the rod fitted beside it.</param>
/// <param name="Undecided">How much more or less may have been removed, because the film after is white there.</param>
internal readonly record struct LevelSums(double Mass, double Removed, int Pixels, double Hidden, double Undecided);

/// <summary>Reads mass and area of residue from the two straightened films of a branch.</summary>
internal sealed class ResidueReader
{
    /// <summary>How much of a small patch's thickness blur leaves in its middle: set on the first generator's seeds 3000 to 3119.</summary>
    private const double ShownOfThickness = 0.9;

    private readonly CanalStrips strips;
    private readonly double leastThicknessPixels;
    private readonly float[,] lost;
    private readonly float[,] stood;
    private readonly List<double>[] added;

    /// <summary>Prepares the sums of a branch.</summary>
    /// <param name="strips">Both films straightened.</param>
    /// <param name="leastThicknessPixels">Thickness along the ray that counts as residue, in pixels.</param>
    /// <param name="noiseGrey">Noise of the difference of the films, in grey levels per pixel.</param>
    public ResidueReader(CanalStrips strips, double leastThicknessPixels, double noiseGrey)
    {
        this.strips = strips;
        this.leastThicknessPixels = leastThicknessPixels;
        NoiseGrey = noiseGrey;
        lost = new float[strips.Levels, strips.Columns];
        stood = new float[strips.Levels, strips.Columns];
        added = new List<double>[strips.Levels];
        Sums = new LevelSums[strips.Levels];
        for (var row = 0; row < strips.Levels; row++)
        {
            Sums[row] = SumLevel(row);
        }
    }

    /// <summary>Thickness along the ray that counts as residue, in pixels.</summary>
    public double LeastThicknessPixels => leastThicknessPixels;

    /// <summary>Sums of each level.</summary>
    public LevelSums[] Sums { get; }

    /// <summary>Noise of the difference, in grey levels per pixel.</summary>
    public double NoiseGrey { get; }

    /// <summary>Whether the branch holds filling at a row.</summary>
    public bool Filled(int row) => strips.Rods.At(strips.FirstLevel + row).Filled;

    /// <summary>Grey levels per pixel of filling thickness.</summary>
    public double GreyPerPixel => strips.Rods.GreyPerPixel;

    /// <summary>Blur of the film before, in pixels.</summary>
    public double BlurPixels => strips.Rods.BlurPixels;

    /// <summary>Root mean square difference of the films beside the filling, in grey levels.</summary>
    public double SideDifference => strips.SideDifference;

    /// <summary>Rows.</summary>
    public int Levels => strips.Levels;

    /// <summary>Columns.</summary>
    public int Columns => strips.Columns;

    /// <summary>Whether a row holds filling before and is seen after.</summary>
    public bool Counts(int row) => Filled(row) && strips.Seen[row];

    /// <summary>The filling before at a row.</summary>
    public (double CentrePixels, double RadiusPixels, bool Filled) RodAt(int row) => strips.Rods.At(strips.FirstLevel + row);

    /// <summary>Offset in pixels of a column from the path.</summary>
    public int OffsetOf(int column) => strips.OffsetOf(column);

    /// <summary>Whether another canal's filling covers a pixel.</summary>
    public bool OfAnother(int row, int column) => strips.OfAnother[row, column];

    /// <summary>Grey that the film after lost at a pixel.</summary>
    public double Lost(int row, int column) => lost[row, column];

    /// <summary>Grey by which the film before stood above its ground at a pixel.</summary>
    public double Stood(int row, int column) => stood[row, column];

    /// <summary>Share of mass left in each whole stretch of so many levels, given what the empty canal is like.</summary>
    public IEnumerable<double> MassShares(int window, EmptyCanal empty)
    {
        for (var row = 0; row + window <= strips.Levels; row += Math.Max(1, window / 2))
        {
            if (Enumerable.Range(row, window).All(Counts))
            {
                yield return MassShare(Enumerable.Range(row, window), empty);
            }
        }
    }

    /// <summary>
    /// Share of mass left over rows: with the filling's mass M before, an emptied canal that would lose D more, of which S lies
    /// within the old filling, and the loss R, it is (M + D − R) / (M + S).
    /// </summary>
    public double MassShare(IEnumerable<int> rows, EmptyCanal empty)
    {
        double mass = 0, removed = 0, cavity = 0, old = 0;
        foreach (var row in rows)
        {
            if (!Counts(row))
            {
                continue;
            }

            mass += Sums[row].Mass;
            removed += Sums[row].Removed - (empty.OffsetGrey * Sums[row].Pixels);
            old += Sums[row].Mass / GreyPerPixel;
            cavity += AddedPixels(row, empty.WidenedPixels);
        }

        return mass > 0 ? (mass + (empty.DarkPerPixel * (old + cavity)) - removed) / (mass + (empty.DarkPerPixel * old)) : 0;
    }

    /// <summary>What white films leave open over rows, as shares of the filling's mass.</summary>
    /// <returns>Part of the mass that was reckoned, not seen; and how much more or less may be left.</returns>
    public (double Hidden, double Undecided) White(IEnumerable<int> rows)
    {
        double mass = 0, hidden = 0, undecided = 0;
        foreach (var row in rows.Where(Counts))
        {
            mass += Sums[row].Mass;
            hidden += Sums[row].Hidden;
            undecided += Sums[row].Undecided;
        }

        return mass > 0 ? (hidden / mass, undecided / mass) : (0, 0);
    }

    /// <summary>Thickness of residue along the ray at a pixel, in pixels, averaged over its neighbours.</summary>
    public double ThicknessLeft(int row, int column, EmptyCanal empty)
    {
        double sum = 0, weight = 0;
        for (var r = Math.Max(0, row - 1); r <= Math.Min(strips.Levels - 1, row + 1); r++)
        {
            for (var c = Math.Max(0, column - 1); c <= Math.Min(strips.Columns - 1, column + 1); c++)
            {
                var w = (r == row ? 2 : 1) * (c == column ? 2 : 1);
                sum += w * (stood[r, c] - lost[r, c] + empty.OffsetGrey);
                weight += w;
            }
        }

        var rod = RodAt(row);
        var offset = strips.OffsetOf(column) - rod.CentrePixels;
        var cavity = Math.Max(0, stood[row, column] / GreyPerPixel)
            + BlurredCylinder.AddedByWidening(offset, rod.RadiusPixels, empty.WidenedPixels, BlurPixels);
        return ((sum / weight) + (empty.DarkPerPixel * cavity)) / (strips.Rods.GreyPerPixel + empty.DarkPerPixel);
    }

    /// <summary>Whether a pixel held at least the least thickness of filling before.</summary>
    public bool WasFilling(int row, int column)
    {
        var rod = strips.Rods.At(strips.FirstLevel + row);
        if (!rod.Filled)
        {
            return false;
        }

        var offset = strips.OffsetOf(column) - rod.CentrePixels;
        var inside = (rod.RadiusPixels * rod.RadiusPixels) - (offset * offset);
        return inside > 0
            && 2 * Math.Sqrt(inside) >= leastThicknessPixels
            && stood[row, column] >= 0.35 * leastThicknessPixels * strips.Rods.GreyPerPixel;
    }

    /// <summary>Mass before and area over rows.</summary>
    /// <param name="rows">Rows to sum over.</param>
    /// <param name="empty">What the canal is like where it is empty.</param>
    /// <param name="thicknessShift">Added to every thickness, in pixels: to see what a systematic error would do.</param>
    public (double Area, double MassBefore, int AreaBefore) Share(IEnumerable<int> rows, EmptyCanal empty, double thicknessShift)
    {
        double mass = 0;
        var before = 0;
        var left = 0;
        foreach (var row in rows)
        {
            if (!Counts(row))
            {
                continue;
            }

            mass += Sums[row].Mass;
            for (var column = 0; column < strips.Columns; column++)
            {
                if (!WasFilling(row, column))
                {
                    continue;
                }

                before++;
                if (strips.WhiteAfter[row, column] || ThicknessLeft(row, column, empty) + thicknessShift >= Threshold(row, column))
                {
                    left++;
                }
            }
        }

        return (before > 0 ? left / (double)before : 0, mass, before);
    }

    private double Threshold(int row, int column)
    {
        // Where the filling itself was thin, the least thickness is asked of what is left of it after blur.
        var blurred = stood[row, column] / strips.Rods.GreyPerPixel;
        return Math.Min(ShownOfThickness * leastThicknessPixels, 0.7 * blurred);
    }

    private LevelSums SumLevel(int row)
    {
        var rod = strips.Rods.At(strips.FirstLevel + row);
        var reach = rod.RadiusPixels + (2.5 * strips.Rods.BlurPixels);
        var shadow = new BlurredCylinder.Rod(rod.RadiusPixels, strips.Rods.BlurPixels);
        double mass = 0, removed = 0, hiddenMass = 0, undecidedMass = 0;
        var pixels = 0;
        for (var column = 0; column < strips.Columns; column++)
        {
            var offset = strips.OffsetOf(column) - rod.CentrePixels;
            stood[row, column] = strips.Before[row, column] - strips.Ground[row, column];
            lost[row, column] = strips.Before[row, column] - strips.After[row, column];
            var (hidden, undecided) = (0.0, 0.0);
            if (rod.Filled && strips.WhiteBefore[row, column])
            {
                hidden = Math.Max(0, (GreyPerPixel * shadow.Thickness(offset)) - stood[row, column]);
                stood[row, column] += (float)hidden;
                lost[row, column] += (float)hidden;
            }

            if (rod.Filled && strips.WhiteAfter[row, column])
            {
                // What is white after is anything from what it shows to all that was there.
                undecided = Math.Max(0, lost[row, column]) / 2;
                lost[row, column] -= (float)undecided;
            }

            if (Math.Abs(offset) <= reach)
            {
                mass += stood[row, column];
                removed += lost[row, column];
                hiddenMass += hidden;
                undecidedMass += undecided;
                pixels++;
            }
        }

        return new LevelSums(mass, removed, pixels, hiddenMass, undecidedMass);
    }

    /// <summary>Pixels of ray that widening the canal by so much on each side adds, summed across where mass is.</summary>
    private double AddedPixels(int row, double widened)
    {
        var steps = added[row] ??= [];
        var step = (int)Math.Floor(widened);
        while (steps.Count <= step + 1)
        {
            steps.Add(SumAdded(row, steps.Count));
        }

        return steps[step] + ((widened - step) * (steps[step + 1] - steps[step]));
    }

    private double SumAdded(int row, int widened)
    {
        var rod = RodAt(row);
        var reach = rod.RadiusPixels + (2.5 * BlurPixels);
        double sum = 0;
        for (var column = 0; column < strips.Columns; column++)
        {
            var offset = Math.Abs(strips.OffsetOf(column) - rod.CentrePixels);
            sum += offset <= reach ? BlurredCylinder.AddedByWidening(offset, rod.RadiusPixels, widened, BlurPixels) : 0;
        }

        return sum;
    }
}
