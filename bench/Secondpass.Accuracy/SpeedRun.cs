using System.Diagnostics;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Accuracy;

/// <summary>How long one canal takes, beside a Gaussian blur of the same film in the same run: the ratio holds on a slower or busier machine.</summary>
internal static class SpeedRun
{
    private const int Rounds = 15;
    private const int Films = 6;
    private const double BlurPixels = 4;

    /// <summary>Runs films.</summary>
    /// <param name="first">First seed.</param>
    public static string Over(int first)
    {
        List<double> canals = [], blurs = [];
        var size = string.Empty;
        for (var seed = first; seed < first + Films; seed++)
        {
            var pair = PhantomPair.Make(seed, new PairOptions { Residual = 0, Change = PairChange.None });
            var film = pair.Before.Radiograph;
            size = $"{film.Width} × {film.Height}";
            var scale = Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value;
            var clicks = pair.Clicks(0, MeasureRun.ClickPixels, seed)[0];
            var image = GreyImage.From(film);
            canals.Add(Fastest(Fresh, fresh => CanalTracer.Trace(fresh, scale, clicks)) / (1 + clicks.Branches.Count));
            blurs.Add(Fastest(() => image, same => Smooth.Gaussian(same, BlurPixels)));

            // A film that was traced before keeps its canals.
            Radiograph Fresh() => new(film.Width, film.Height, film.Pixels.ToArray(), film.GreatestValue, film.Format, film.Sha256);
        }

        return string.Create(CultureInfo.InvariantCulture, $"One canal on films of {size}: {canals.Average():0.0} ms, slowest film {canals.Max():0.0} ms; a Gaussian blur of {BlurPixels:0} pixels of the same film {blurs.Average():0.0} ms: {canals.Average() / blurs.Average():0.0} times. Fastest of {Rounds} rounds, {Films} films, {Environment.ProcessorCount} cores.");
    }

    private static double Fastest<T>(Func<T> prepare, Action<T> work)
    {
        var best = double.PositiveInfinity;
        for (var round = 0; round < Rounds; round++)
        {
            var prepared = prepare();
            var watch = Stopwatch.StartNew();
            work(prepared);
            best = Math.Min(best, watch.Elapsed.TotalMilliseconds);
        }

        return best;
    }
}
