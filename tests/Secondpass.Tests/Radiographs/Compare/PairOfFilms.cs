using Secondpass.Domain.Films;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Compare;

namespace Secondpass.Tests.Radiographs.Compare;

/// <summary>Asks the comparer what a dentist would ask of a simulated pair.</summary>
internal static class PairOfFilms
{
    public static ComparisonRequest Request(PhantomPair pair, Radiograph? before = null, Radiograph? after = null, AfterState state = AfterState.Removed) => new(
        before ?? pair.Before.Radiograph,
        after ?? pair.After.Radiograph,
        Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value,
        null,
        pair.Clicks(1),
        state,
        new Dictionary<string, AfterState>(),
        []);

    public static Comparison Compared(PhantomPair pair, Radiograph? before = null, Radiograph? after = null) =>
        FilmComparer.Compare(Request(pair, before, after)).Value;

    /// <summary>The film with each grey value put through a curve on 0 to 1.</summary>
    public static Radiograph Mapped(Radiograph film, Func<double, double> curve)
    {
        var pixels = new ushort[film.Width * film.Height];
        for (var i = 0; i < pixels.Length; i++)
        {
            pixels[i] = (ushort)Math.Round(curve(film.Pixels[i] / (double)film.GreatestValue) * 65535, MidpointRounding.AwayFromZero);
        }

        return new Radiograph(film.Width, film.Height, pixels, 65535, FilmFormat.Simulated, film.Sha256);
    }

    /// <summary>The film with columns and rows cut off on each side.</summary>
    public static Radiograph Cropped(Radiograph film, int left, int top, int right, int bottom)
    {
        var width = film.Width - left - right;
        var height = film.Height - top - bottom;
        var pixels = new ushort[width * height];
        for (var y = 0; y < height; y++)
        {
            film.Pixels.Slice(((y + top) * film.Width) + left, width).CopyTo(pixels.AsSpan(y * width));
        }

        return new Radiograph(width, height, pixels, film.GreatestValue, FilmFormat.Simulated, film.Sha256);
    }

    /// <summary>The film turned by a quarter to the right: exact, no value is made up.</summary>
    public static Radiograph QuarterTurned(Radiograph film)
    {
        var pixels = new ushort[film.Width * film.Height];
        for (var y = 0; y < film.Height; y++)
        {
            for (var x = 0; x < film.Width; x++)
            {
                pixels[(x * film.Height) + (film.Height - 1 - y)] = film.Pixels[(y * film.Width) + x];
            }
        }

        return new Radiograph(film.Height, film.Width, pixels, film.GreatestValue, FilmFormat.Simulated, film.Sha256);
    }
}
