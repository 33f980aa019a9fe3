using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Radiographs.Register;

/// <summary>The filling as a smooth rod along a branch: centre and radius at every level, and where there is any.</summary>
internal sealed class RodCourse
{
    private readonly double[] levels;
    private readonly double[] centres;
    private readonly double[] radii;
    private readonly bool[] filled;

    private RodCourse(double[] levels, double[] centres, double[] radii, bool[] filled, double blur, double strength, double lastLevel)
    {
        this.levels = levels;
        this.centres = centres;
        this.radii = radii;
        this.filled = filled;
        BlurPixels = blur;
        GreyPerPixel = strength;
        LastLevel = lastLevel;
    }

    /// <summary>Blur of the film.</summary>
    public double BlurPixels { get; }

    /// <summary>Grey levels per pixel of filling thickness.</summary>
    public double GreyPerPixel { get; }

    /// <summary>Level at which the filling ends, with a little room for blur.</summary>
    public double LastLevel { get; }

    /// <summary>Whether any filling is seen.</summary>
    public bool Any => filled.Contains(true);

    /// <summary>The rod at a level.</summary>
    public (double CentrePixels, double RadiusPixels, bool Filled) At(double level)
    {
        var spacing = levels[1] - levels[0];
        var place = Math.Clamp(level / spacing, 0, levels.Length - 1);
        var below = Math.Min((int)place, levels.Length - 2);
        var share = place - below;
        var nearest = share < 0.5 ? below : below + 1;
        return (
            centres[below] + (share * (centres[below + 1] - centres[below])),
            radii[below] + (share * (radii[below + 1] - radii[below])),
            level <= LastLevel && (level > levels[^1] ? filled[^1] : filled[nearest]));
    }

    /// <summary>The greatest distance from the path that the rod reaches between two levels.</summary>
    public double GreatestReach(double from, double to)
    {
        var greatest = 3.0;
        for (var level = from; level <= to; level += 2)
        {
            var rod = At(level);
            greatest = Math.Max(greatest, Math.Abs(rod.CentrePixels) + rod.RadiusPixels);
        }

        return greatest;
    }

    /// <summary>Smooths fitted rods.</summary>
    /// <param name="rods">The fits.</param>
    /// <param name="filledTo">Level at which the filling ends, or null when none is seen.</param>
    public static RodCourse From(RodProfile rods, double? filledTo)
    {
        var n = rods.LevelsPixels.Length;
        var weights = new double[n];
        var centres = new double[n];
        var radii = new double[n];
        var strengths = new List<double>();
        for (var i = 0; i < n; i++)
        {
            centres[i] = rods.Rods[i].CentrePixels;
            radii[i] = rods.Rods[i].RadiusPixels;
            weights[i] = rods.Filled[i] ? 1 : 1e-4;
            if (rods.Filled[i])
            {
                strengths.Add(rods.Rods[i].GreyPerPixel);
            }
        }

        if (strengths.Count < 2)
        {
            return new RodCourse(rods.LevelsPixels, centres, radii, new bool[n], rods.BlurPixels, 1, 0);
        }

        var filled = (bool[])rods.Filled.Clone();
        CloseGaps(filled, rods.SpacingPixels);
        return new RodCourse(
            rods.LevelsPixels,
            Penalised.Smooth(centres, weights, 6),
            [.. Penalised.Smooth(radii, weights, 6).Select(radius => Math.Max(RodFit.LeastRadiusPixels, radius))],
            filled,
            rods.BlurPixels,
            Ranks.Quantile([.. strengths], 0.4),
            (filledTo ?? rods.LevelsPixels[^1]) + rods.BlurPixels);
    }

    /// <summary>A void of a millimetre or two inside a filling still belongs to it: its little mass counts with the rest.</summary>
    private static void CloseGaps(bool[] filled, double spacing)
    {
        var longest = (int)(70 / spacing);
        var last = -1;
        for (var i = 0; i < filled.Length; i++)
        {
            if (!filled[i])
            {
                continue;
            }

            if (last >= 0 && i - last - 1 <= longest)
            {
                Array.Fill(filled, true, last + 1, i - last - 1);
            }

            last = i;
        }
    }
}
