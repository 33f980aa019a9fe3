using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>
/// Bright lines that a canal's path meets: the floor of a sinus, a cortical plate. A filling stays in its canal; such a line leaves it
/// on both sides.
/// </summary>
/// <remarks>Limits chosen by looking at films of the second generator with seeds 100 to 259.</remarks>
internal static class CrossingLine
{
    private const double StepPixels = 4;

    /// <summary>Steps by which a line is followed each way: about 3 mm of an intra-oral film.</summary>
    private const int MostSteps = 24;

    /// <summary>Directions tried, over half a turn.</summary>
    private const int Directions = 24;

    /// <summary>Steps to either side over which a direction is judged.</summary>
    private const int StepsOfDirection = 3;

    /// <summary>How far aside a line may run from one step to the next, in pixels: such lines are seldom straight.</summary>
    private const int MostAsidePixels = 3;

    /// <summary>How much of its direction a line keeps from one step to the next.</summary>
    private const double Straightness = 0.7;

    /// <summary>What is left of a line's contrast where it still goes on.</summary>
    private const double LeastContrastShare = 0.5;

    /// <summary>Farther than this from the canal, beyond the line's own half width, it has left it.</summary>
    private const double OffPixels = 8;

    /// <summary>Whether what lies at a place of a path is a bright line that leaves the canal both ways.</summary>
    /// <param name="image">Grey values; filling is brighter than dentine.</param>
    /// <param name="path">The canal.</param>
    /// <param name="at">The axis of a rod near the path.</param>
    /// <param name="radius">Its radius, in pixels.</param>
    public static bool Passes(GreyImage image, CanalPath path, PixelPoint at, double radius)
    {
        var (along, contrast) = Enumerable.Range(0, Directions)
            .Select(i => Math.SinCos(Math.PI * i / Directions))
            .Select(turn => new PixelPoint(turn.Cos, turn.Sin))
            .Select(direction => (direction, Contrast: Enumerable.Range(-StepsOfDirection, (2 * StepsOfDirection) + 1).Average(step => Contrast(image, at + (direction * (step * StepPixels)), direction, radius))))
            .MaxBy(one => one.Contrast);
        return contrast > 0 && Leaves(along) && Leaves(along * -1);

        bool Leaves(PixelPoint direction)
        {
            var place = at;
            for (var step = 0; step < MostSteps; step++)
            {
                var across = new PixelPoint(-direction.Y, direction.X);
                var ahead = place + (direction * StepPixels);
                var (next, there) = Enumerable.Range(-MostAsidePixels, (2 * MostAsidePixels) + 1)
                    .Select(aside => ahead + (across * aside))
                    .Select(one => (one, Contrast: Contrast(image, one, direction, radius)))
                    .MaxBy(one => one.Contrast);
                if (there < LeastContrastShare * contrast)
                {
                    return false;
                }

                if (path.Points.Min(next.DistanceTo) > radius + OffPixels)
                {
                    return true;
                }

                var turned = (direction * Straightness) + ((next - place) * ((1 - Straightness) / place.DistanceTo(next)));
                direction = turned * (1 / turned.DistanceTo(default));
                place = next;
            }

            return false;
        }
    }

    /// <summary>Grey levels by which a band stands out from the lighter of its sides.</summary>
    private static double Contrast(GreyImage image, PixelPoint at, PixelPoint along, double radius)
    {
        const double BesidePixels = 3;
        const double SidePixels = 6;
        var across = new PixelPoint(-along.Y, along.X);
        var beyond = radius + BesidePixels;
        return Mean(-0.6 * radius, 0.6 * radius) - Math.Max(Mean(-beyond - SidePixels, -beyond), Mean(beyond, beyond + SidePixels));

        double Mean(double from, double to)
        {
            double sum = 0;
            var count = 0;
            for (var v = from; v <= to; v++, count++)
            {
                sum += image.At(at.X + (across.X * v), at.Y + (across.Y * v));
            }

            return sum / count;
        }
    }
}
