using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Read;

namespace Secondpass.Radiographs.Straighten;

/// <summary>Makes a film of a photograph of it: straight, with square pixels of a known size, its greys linear in optical density.</summary>
public static class FilmStraightener
{
    /// <summary>The shortest side that an intra-oral film can have, in mm.</summary>
    public const double LeastSideMillimetres = 10;

    /// <summary>The longest side that an intra-oral film can have, in mm.</summary>
    public const double GreatestSideMillimetres = 100;

    private const double MillimetresPerMetre = 1000;

    /// <summary>Straightens a photograph.</summary>
    /// <param name="bytes">The photograph's file, PNG or JPEG. Not changed.</param>
    /// <param name="marks">Four marks on the film's corners, in pixels of the photograph, in any order: where its edges would meet.</param>
    /// <param name="oneSide">One side of the film.</param>
    /// <param name="otherSide">The other; which is which doesn't matter.</param>
    /// <returns>
    /// The film; or a refusal: what <see cref="FilmReader.ReadPhotograph"/> refuses, <c>not_four_corners</c>, <c>corner_outside</c>,
    /// <c>corners_too_close</c>, <c>not_corners</c>, <c>implausible_film_size</c>, <c>size_does_not_fit</c>, <c>long_side_not_seen</c>,
    /// <c>straightened_already</c>.
    /// </returns>
    /// <remarks>
    /// Light is interpolated between the photograph's pixels (linear both ways) and kept as 65535·(1 − D/3), D the optical density over
    /// the photograph's white: −log₁₀ of the light. Larger is lighter, as the film on its light box. Method, check values and limits:
    /// docs/models/straightened-films.md.
    /// </remarks>
    public static Answer<StraightenedFilm> Straighten(ReadOnlyMemory<byte> bytes, IReadOnlyList<PixelPoint> marks, Millimetres oneSide, Millimetres otherSide)
    {
        ArgumentNullException.ThrowIfNull(marks);
        foreach (var side in new[] { oneSide.Value, otherSide.Value })
        {
            if (side is < LeastSideMillimetres or > GreatestSideMillimetres)
            {
                return StraightenRefusals.Implausible(side);
            }
        }

        if (!FilmReader.ReadPhotograph(bytes).TryGet(out var photograph, out var refusal) || !FilmCorners.InOrder(photograph, marks).TryGet(out var corners, out refusal))
        {
            return refusal;
        }

        if (photograph.Photographed is not null)
        {
            return StraightenRefusals.Straightened();
        }

        if (!Lying(corners, Math.Min(oneSide.Value, otherSide.Value), Math.Max(oneSide.Value, otherSide.Value)).TryGet(out var size, out refusal))
        {
            return refusal;
        }

        var perimeter = Enumerable.Range(0, 4).Sum(i => corners[i].DistanceTo(corners[(i + 1) % 4]));
        var seen = 2 * (size.Width + size.Height) / perimeter;

        // Never finer than what can be read again, with a little room for whole columns and rows.
        var finest = Math.Max(Calibration.SmallestMillimetresPerPixel, Math.Sqrt(1.01 * size.Width * size.Height / FilmReading.GreatestPixelCount.Value));
        var perMetre = (int)Math.Floor(MillimetresPerMetre / Math.Max(seen, finest));
        var deviation = double.Hypot(DrawnOnFilms.ClickDeviationPixels.Value, PhotographedFilms.CornerDeviation.Value / seen);
        var film = new PhotographedFilm(
            photograph.Sha256,
            corners,
            new Millimetres(size.Width),
            new Millimetres(size.Height),
            deviation,
            LengthsFromMarks.WorstShare(corners, size.Width, size.Height, deviation));
        return Make(photograph, film, perMetre);
    }

    // The long side is the one that is seen longer.
    private static Answer<Lies> Lying(IReadOnlyList<PixelPoint> corners, double shortSide, double longSide)
    {
        var across = corners[0].DistanceTo(corners[1]) + corners[2].DistanceTo(corners[3]);
        var down = corners[1].DistanceTo(corners[2]) + corners[3].DistanceTo(corners[0]);
        var (seen, stated) = (Math.Max(across, down) / Math.Min(across, down), longSide / shortSide);
        if (Math.Max(seen / stated, stated / seen) > PhotographedFilms.GreatestRatioChange.Value)
        {
            return StraightenRefusals.WrongSize(seen, stated);
        }

        if (seen < PhotographedFilms.LeastRatioSeen.Value && stated > PhotographedFilms.LeastRatioSeen.Value)
        {
            return StraightenRefusals.SidesAlike(seen);
        }

        return across > down ? new Lies(longSide, shortSide) : new Lies(shortSide, longSide);
    }

    private static StraightenedFilm Make(Radiograph photograph, PhotographedFilm film, int perMetre)
    {
        var millimetres = MillimetresPerMetre / perMetre;
        var width = (int)Math.Round(film.Width.Value / millimetres, MidpointRounding.AwayFromZero);
        var height = (int)Math.Round(film.Height.Value / millimetres, MidpointRounding.AwayFromZero);
        var map = PerspectiveMap.ToCorners(film.Width.Value, film.Height.Value, film.Corners);
        var light = new float[photograph.GreatestValue + 1];
        for (var value = 0; value < light.Length; value++)
        {
            light[value] = (float)CameraLight.Of((double)value / photograph.GreatestValue);
        }

        var source = photograph.Pixels;
        var pixels = new ushort[width * height];
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                // The film's edge runs through the outer side of the outermost pixels.
                var at = map.Seen((x + 0.5) * millimetres, (y + 0.5) * millimetres);
                pixels[(y * width) + x] = Grey(Between(source, light, photograph.Width, photograph.Height, at));
            }
        }

        return new StraightenedFilm(film, GreyPng.Write(width, pixels, perMetre, StraightenedMark.Write(film)));
    }

    private static double Between(ReadOnlySpan<ushort> pixels, float[] light, int width, int height, PixelPoint at)
    {
        var (x, y) = (Math.Clamp(at.X, 0, width - 1), Math.Clamp(at.Y, 0, height - 1));
        var (left, top) = (Math.Min((int)x, width - 2), Math.Min((int)y, height - 2));
        var (right, down) = (x - left, y - top);
        var start = (top * width) + left;
        return ((1 - down) * (((1 - right) * light[pixels[start]]) + (right * light[pixels[start + 1]])))
            + (down * (((1 - right) * light[pixels[start + width]]) + (right * light[pixels[start + width + 1]])));
    }

    private static ushort Grey(double light) =>
        (ushort)Math.Round(ushort.MaxValue * Math.Clamp(1 + (Math.Log10(light) / PhotographedFilms.GreatestDensity.Value), 0, 1), MidpointRounding.AwayFromZero);

    private readonly record struct Lies(double Width, double Height);
}

/// <summary>A film made of a photograph.</summary>
/// <param name="Film">How it was made.</param>
/// <param name="File">The bytes of its file: a grey PNG of 16 bits that states its pixel size and how it was made.</param>
public sealed record StraightenedFilm(PhotographedFilm Film, ReadOnlyMemory<byte> File);
