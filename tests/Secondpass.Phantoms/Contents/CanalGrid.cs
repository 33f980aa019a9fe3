using Secondpass.Phantoms.Anatomy;

namespace Secondpass.Phantoms.Contents;

/// <summary>A branch's filling cut into small cells of level, angle and radius: volumes by summation, without a film.</summary>
internal sealed class CanalGrid
{
    private const int Angles = 48;
    private const int Radii = 16;
    private readonly PhantomCanal canal;
    private readonly int levels;
    private readonly double[] sectionArea;
    private readonly double[] levelY;
    private readonly bool[] held;
    private readonly double total;

    public CanalGrid(PhantomCanal canal)
    {
        this.canal = canal;
        var filling = canal.Filling ?? throw new ArgumentException("The canal holds no filling.", nameof(canal));
        levels = filling.Count * 2;
        var height = (filling.ToY - filling.FromY) / levels;
        levelY = new double[levels];
        sectionArea = new double[levels];
        held = new bool[levels * Angles * Radii];
        for (var i = 0; i < levels; i++)
        {
            levelY[i] = filling.FromY + ((i + 0.5) * height);
            var section = filling.SectionAt(levelY[i]);
            sectionArea[i] = section.HalfX * section.HalfZ * height;
            for (var j = 0; j < Angles; j++)
            {
                for (var k = 0; k < Radii; k++)
                {
                    held[Index(i, j, k)] = canal.FillingHolds(levelY[i], Angle(j), Radius(k));
                }
            }
        }

        total = Volume((_, _, _) => true);
    }

    /// <summary>Levels of the cells as y in mm.</summary>
    public IReadOnlyList<double> LevelY => levelY;

    /// <summary>Volume of the filling, voids taken out, in mm³.</summary>
    public double Total => total;

    /// <summary>Share of the filling's volume that lies in any of the patches.</summary>
    public double ShareIn(List<CanalPatch> patches) =>
        total <= 0 ? 0 : Volume((y, angle, radius) =>
        {
            foreach (var patch in patches)
            {
                if (patch.Holds(y, angle, radius))
                {
                    return true;
                }
            }

            return false;
        }) / total;

    /// <summary>Volume in mm³ of the filling's cells for which a condition holds.</summary>
    public double Volume(Func<double, double, double, bool> condition)
    {
        double sum = 0;
        for (var i = 0; i < levels; i++)
        {
            sum += VolumeAt(i, condition);
        }

        return sum;
    }

    /// <summary>Volume in mm³ of one level's cells for which a condition holds.</summary>
    public double VolumeAt(int level, Func<double, double, double, bool> condition)
    {
        double sum = 0;
        for (var j = 0; j < Angles; j++)
        {
            for (var k = 0; k < Radii; k++)
            {
                if (held[Index(level, j, k)] && condition(levelY[level], Angle(j), Radius(k)))
                {
                    sum += Radius(k);
                }
            }
        }

        return sum * sectionArea[level] * (2 * Math.PI / Angles) / Radii;
    }

    private static int Index(int level, int angle, int radius) => (((level * Angles) + angle) * Radii) + radius;

    private static double Angle(int j) => -Math.PI + ((j + 0.5) * 2 * Math.PI / Angles);

    private static double Radius(int k) => (k + 0.5) / Radii;
}
