namespace Secondpass.Radiographs.Compare;

/// <summary>What is left at one level of a branch, in sums across the path.</summary>
/// <param name="Mass">Contrast of the filling before, summed across, in grey levels × pixels.</param>
/// <param name="Removed">Grey that the film after lost, summed across.</param>
/// <param name="Area">Pixels across that held at least the least thickness before.</param>
internal readonly record struct LevelSums(double Mass, double Removed, double Area);

/// <summary>Reads mass and area of residue from the two straightened films of a branch.</summary>
internal sealed class ResidueReader
{
    private readonly CanalStrips strips;
    private readonly double leastThicknessPixels;
    private readonly float[,] lost;
    private readonly float[,] stood;

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

    /// <summary>Removed over mass, smoothed along the branch: the greatest of these belong to places that were emptied.</summary>
    public IEnumerable<double> RemovedShares(int window)
    {
        for (var row = 0; row + window <= strips.Levels; row += Math.Max(1, window / 2))
        {
            double mass = 0, removed = 0;
            var counted = 0;
            for (var i = row; i < row + window; i++)
            {
                if (Filled(i) && strips.Seen[i])
                {
                    mass += Sums[i].Mass;
                    removed += Sums[i].Removed;
                    counted++;
                }
            }

            if (counted == window && mass > 0)
            {
                yield return removed / mass;
            }
        }
    }

    /// <summary>Thickness of residue along the ray at a pixel, in pixels, averaged over its neighbours.</summary>
    public double ThicknessLeft(int row, int column, double emptied)
    {
        double sum = 0, weight = 0;
        for (var r = Math.Max(0, row - 1); r <= Math.Min(strips.Levels - 1, row + 1); r++)
        {
            for (var c = Math.Max(0, column - 1); c <= Math.Min(strips.Columns - 1, column + 1); c++)
            {
                var w = (r == row ? 2 : 1) * (c == column ? 2 : 1);
                sum += w * (stood[r, c] - (lost[r, c] / emptied));
                weight += w;
            }
        }

        return sum / weight / strips.Rods.GreyPerPixel;
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

    /// <summary>Mass and area over rows, as unclipped shares.</summary>
    /// <param name="rows">Rows to sum over.</param>
    /// <param name="emptied">Grey lost over contrast where a filling is fully removed; above 1, because an empty canal is darker than dentine.</param>
    /// <param name="thicknessShift">Added to every thickness, in pixels: to see what a systematic error would do.</param>
    public (double Mass, double Area, double MassBefore, int AreaBefore) Share(IEnumerable<int> rows, double emptied, double thicknessShift)
    {
        double mass = 0, removed = 0;
        var before = 0;
        var left = 0;
        foreach (var row in rows)
        {
            if (!Filled(row) || !strips.Seen[row])
            {
                continue;
            }

            mass += Sums[row].Mass;
            removed += Sums[row].Removed;
            for (var column = 0; column < strips.Columns; column++)
            {
                if (!WasFilling(row, column))
                {
                    continue;
                }

                before++;
                if (ThicknessLeft(row, column, emptied) + thicknessShift >= Threshold(row, column))
                {
                    left++;
                }
            }
        }

        return (mass > 0 ? 1 - (removed / mass / emptied) : 0, before > 0 ? left / (double)before : 0, mass, before);
    }

    private double Threshold(int row, int column)
    {
        // Where the filling itself was thin, the least thickness is asked of what is left of it after blur.
        var blurred = stood[row, column] / strips.Rods.GreyPerPixel;
        return Math.Min(leastThicknessPixels, 0.7 * blurred);
    }

    private LevelSums SumLevel(int row)
    {
        var rod = strips.Rods.At(strips.FirstLevel + row);
        var reach = rod.RadiusPixels + (2.5 * strips.Rods.BlurPixels);
        double mass = 0, removed = 0, area = 0;
        for (var column = 0; column < strips.Columns; column++)
        {
            var offset = strips.OffsetOf(column) - rod.CentrePixels;
            stood[row, column] = strips.Before[row, column] - strips.Ground[row, column];
            lost[row, column] = strips.Before[row, column] - strips.After[row, column];
            if (Math.Abs(offset) <= reach)
            {
                mass += stood[row, column];
                removed += lost[row, column];
            }
        }

        for (var column = 0; column < strips.Columns; column++)
        {
            area += WasFilling(row, column) ? 1 : 0;
        }

        return new LevelSums(mass, removed, area);
    }
}
