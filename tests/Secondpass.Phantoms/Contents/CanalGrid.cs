using Secondpass.Phantoms.Anatomy;

namespace Secondpass.Phantoms.Contents;

/// <summary>A branch's filling cut into small cells of level, angle and radius: volumes by summation, without a film.</summary>
internal sealed class CanalGrid
{
    private const int Angles = 48;
    private const int Radii = 32;
    private readonly int levels;
    private readonly double height;
    private readonly double fromY;
    private readonly double[] sectionArea;
    private readonly bool[] free;
    private readonly double total;

    public CanalGrid(PhantomCanal canal)
    {
        var filling = canal.Filling ?? throw new ArgumentException("The canal holds no filling.", nameof(canal));
        levels = filling.Count * 2;
        fromY = filling.FromY;
        height = (filling.ToY - filling.FromY) / levels;
        sectionArea = new double[levels];
        free = new bool[levels * Angles * Radii];
        Array.Fill(free, true);
        for (var i = 0; i < levels; i++)
        {
            var section = filling.SectionAt(LevelY(i));
            sectionArea[i] = section.HalfX * section.HalfZ * height;
            total += sectionArea[i];
        }

        total *= Math.PI;
        foreach (var gap in canal.Voids)
        {
            total -= Through(gap, take: true);
        }
    }

    /// <summary>Volume of the filling, voids taken out, in mm³.</summary>
    public double Total => total;

    /// <summary>Share of the filling's volume that a patch would add to those covered already.</summary>
    public double ShareAdded(in CanalPatch patch) => Through(patch, take: false) / total;

    /// <summary>Covers the filling by a patch.</summary>
    /// <returns>Share of the filling's volume that it added.</returns>
    public double Cover(in CanalPatch patch) => Through(patch, take: true) / total;

    private double Through(in CanalPatch patch, bool take)
    {
        var reach = CanalPatch.Reach * patch.HalfHeight;
        var first = Math.Max(0, (int)((patch.CentreY - reach - fromY) / height) - 1);
        var last = Math.Min(levels - 1, (int)((patch.CentreY + reach - fromY) / height) + 1);
        double sum = 0;
        for (var i = first; i <= last; i++)
        {
            var y = LevelY(i);
            double atLevel = 0;
            for (var j = 0; j < Angles; j++)
            {
                var angle = -Math.PI + ((j + 0.5) * 2 * Math.PI / Angles);
                for (var k = 0; k < Radii; k++)
                {
                    var radius = (k + 0.5) / Radii;
                    var cell = (((i * Angles) + j) * Radii) + k;
                    if (free[cell] && patch.Holds(y, angle, radius))
                    {
                        atLevel += radius;
                        free[cell] = !take;
                    }
                }
            }

            sum += atLevel * sectionArea[i];
        }

        return sum * (2 * Math.PI / Angles) / Radii;
    }

    private double LevelY(int level) => fromY + ((level + 0.5) * height);
}
