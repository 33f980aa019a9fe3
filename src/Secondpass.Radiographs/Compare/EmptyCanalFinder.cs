using Secondpass.Domain.Evidence;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Radiographs.Compare;

/// <summary>Reads off the film after how wide the canal was cut, and how dark it is where it is empty.</summary>
/// <remarks>
/// Cutting dentine darkens a canal as taking filling out does. Inside the old outline the two can't be told apart; just outside it
/// there never was filling, and what grew dark there was dentine. The ring beside the old outline is fitted by the shadow of a
/// wider rod; its width and darkness are weighed by how well they fit, by how dark dentine is next to gutta-percha, and by the
/// rule that no stretch can hold less than nothing.
/// </remarks>
internal static class EmptyCanalFinder
{
    /// <summary>Choices for the widening on each side, in pixels.</summary>
    private const int WidestPixels = 9;

    /// <summary>Choices for darkness over the filling's own contrast.</summary>
    private const int DarkSteps = 16;

    private const double DarkStep = 0.02;

    /// <summary>
    /// Filling doesn't come back: the edge of what was removed may only be as much below nothing, as a share of the filling, as noise
    /// makes it. With more leeway a canal that nobody touched passes for a wider one that gained filling.
    /// </summary>
    private const double LeastRemoved = -0.02;

    /// <summary>How far the ring is read beyond the widest canal, in pixels.</summary>
    private const int Beyond = 6;

    /// <summary>Stretches of this many levels must not hold less than nothing.</summary>
    private const int Stretch = 24;

    /// <summary>How far makes of filling, dry and wet canals and the beam's hardness let the darkness stray, as a share of the filling's contrast: set on the first generator's seeds 3000 to 3079 and 13000 to 13039.</summary>
    private const double DarkDeviation = 0.03;

    private const double LeastShareDeviation = 0.07;

    /// <summary>Weighs what the empty canal may be like.</summary>
    /// <param name="reader">Sums of the branch.</param>
    /// <returns>Likely canals; their weights sum to 1.</returns>
    public static IReadOnlyList<WeighedCanal> Find(ResidueReader reader)
    {
        var ring = new Ring(reader);
        var found = new List<(EmptyCanal Canal, double Misfit)>();
        var prior = FilmPhysics.EmptiedOverContrast;
        for (var widened = 0; widened <= WidestPixels; widened++)
        {
            var shape = ring.ShapeOf(widened);
            for (var step = 0; step < DarkSteps; step++)
            {
                var share = step * DarkStep;
                var dark = share * reader.GreyPerPixel;
                var (offset, misfit) = ring.Fit(shape, dark);
                var canal = new EmptyCanal(widened, dark, offset);
                var fromPrior = (share - (prior.Value - 1)) / DarkDeviation;
                double[] stretches = [.. reader.MassShares(Stretch, canal)];

                // A filling in short pieces has no whole stretch.
                var below = stretches.Length == 0 ? 0 : Math.Min(0, Ranks.Quantile(stretches, 0.1)) / LeastShareDeviation;
                found.Add((canal, misfit + (fromPrior * fromPrior) + (below * below)));
            }
        }

        var best = found.Min(each => each.Misfit);
        var likely = found.Where(each => each.Misfit < best + 14).Select(each => new WeighedCanal(each.Canal, Math.Exp(-0.5 * (each.Misfit - best)))).ToArray();
        var sum = likely.Sum(each => each.Weight);
        return [.. likely.Select(each => each with { Weight = each.Weight / sum })];
    }

    /// <summary>The mean loss beside the old outline, by distance from it.</summary>
    private sealed class Ring
    {
        private readonly List<double> radii = [];
        private readonly double[] lost;
        private readonly double[] stood;
        private readonly double deviation;
        private readonly double blur;

        public Ring(ResidueReader reader)
        {
            var count = WidestPixels + Beyond;
            lost = new double[count];
            stood = new double[count];
            var seen = new int[count];
            blur = reader.BlurPixels;
            for (var row = 0; row < reader.Levels; row++)
            {
                if (!reader.Counts(row))
                {
                    continue;
                }

                var rod = reader.RodAt(row);
                radii.Add(rod.RadiusPixels);
                for (var column = 0; column < reader.Columns; column++)
                {
                    var distance = (int)Math.Floor(Math.Abs(reader.OffsetOf(column) - rod.CentrePixels) - rod.RadiusPixels);
                    if (distance >= 0 && distance < count && !reader.OfAnother(row, column))
                    {
                        lost[distance] += reader.Lost(row, column);
                        stood[distance] += reader.Stood(row, column);
                        seen[distance]++;
                    }
                }
            }

            for (var i = 0; i < count; i++)
            {
                lost[i] /= Math.Max(1, seen[i]);
                stood[i] /= Math.Max(1, seen[i]);
            }

            var contrast = reader.GreyPerPixel * 2 * Math.Max(1, radii.DefaultIfEmpty(1).Average());
            deviation = Math.Max(0.003 * contrast, 0.5 * reader.SideDifference / Math.Sqrt(Math.Max(1, radii.Count / 30.0)));
        }

        /// <summary>
        /// Mean shadow that widening adds, in pixels of ray, by distance from the old outline: over and above what it adds in the
        /// band beside the canal, because the films were made equal there.
        /// </summary>
        public double[] ShapeOf(int widened)
        {
            var shape = new double[lost.Length];
            var each = Math.Max(1, radii.Count / 40);
            var counted = 0;
            for (var i = 0; i < radii.Count; i += each)
            {
                counted++;
                for (var distance = 0; distance < shape.Length; distance++)
                {
                    shape[distance] += BlurredCylinder.AddedByWidening(radii[i] + distance + 0.5, radii[i], widened, blur);
                }
            }

            for (var distance = 0; distance < shape.Length; distance++)
            {
                shape[distance] /= Math.Max(1, counted);
            }

            var fromBand = Math.Min((int)CanalStrips.SideGapPixels(blur), shape.Length - 1);
            var inBand = shape[fromBand..].Take(CanalStrips.SideBandPixels).Average();
            return [.. shape.Select(added => added - inBand)];
        }

        /// <summary>Fits an even offset and the blurred edge of what was removed, and says how badly a shape of that darkness fits.</summary>
        public (double Offset, double Misfit) Fit(double[] shape, double dark)
        {
            double n = lost.Length, ss = 1e-9, s = 0, y = 0, sy = 0;
            for (var i = 0; i < lost.Length; i++)
            {
                var rest = lost[i] - (dark * shape[i]);
                ss += stood[i] * stood[i];
                s += stood[i];
                y += rest;
                sy += stood[i] * rest;
            }

            var determinant = (n * ss) - (s * s);
            var removed = Math.Clamp(determinant > 1e-9 ? ((n * sy) - (s * y)) / determinant : 0, LeastRemoved, 1.3);
            var offset = (y - (removed * s)) / n;
            double misfit = 0;
            for (var i = 0; i < lost.Length; i++)
            {
                var rest = lost[i] - (dark * shape[i]) - (removed * stood[i]) - offset;
                misfit += rest * rest;
            }

            // Neighbouring distances err together: a third of them count as independent.
            return (offset, misfit / 3 / (deviation * deviation));
        }
    }
}
