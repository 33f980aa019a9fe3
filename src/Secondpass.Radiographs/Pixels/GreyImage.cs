using System.Runtime.CompilerServices;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Pixels;

/// <summary>Grey values as floats for computing: one value per pixel, row by row from the top.</summary>
/// <remarks>Not a <see cref="Radiograph"/>: values here may be inverted, blurred, shrunk or differences, whatever the step needs.</remarks>
internal sealed class GreyImage
{
    public GreyImage(int width, int height)
        : this(width, height, new float[width * height])
    {
    }

    public GreyImage(int width, int height, float[] values)
    {
        Width = width;
        Height = height;
        Values = values;
    }

    public int Width { get; }

    public int Height { get; }

    public float[] Values { get; }

    /// <summary>The grey from which on the film shows everything alike, as white as it can; positive infinity where it nowhere does.</summary>
    public float WhiteFrom { get; init; } = float.PositiveInfinity;

    public float this[int x, int y]
    {
        get => Values[(y * Width) + x];
        set => Values[(y * Width) + x] = value;
    }

    /// <summary>The film's grey values on their own scale; negated when <paramref name="inverted"/>, so that more radiopaque is always greater.</summary>
    public static GreyImage From(Radiograph film, bool inverted = false)
    {
        var values = new float[film.Width * film.Height];
        var pixels = film.Pixels;
        if (inverted)
        {
            float greatest = film.GreatestValue;
            for (var i = 0; i < values.Length; i++)
            {
                values[i] = greatest - pixels[i];
            }
        }
        else
        {
            for (var i = 0; i < values.Length; i++)
            {
                values[i] = pixels[i];
            }
        }

        return new GreyImage(film.Width, film.Height, values) { WhiteFrom = WhiteLimit.Of(values) };
    }

    /// <summary>Bilinear value at a place; places outside take the nearest pixel of the border.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public float At(double x, double y)
    {
        x = Math.Clamp(x, 0, Width - 1);
        y = Math.Clamp(y, 0, Height - 1);
        var left = Math.Min((int)x, Math.Max(Width - 2, 0));
        var top = Math.Min((int)y, Math.Max(Height - 2, 0));
        var fx = (float)(x - left);
        var fy = (float)(y - top);
        var right = Math.Min(left + 1, Width - 1);
        var bottom = Math.Min(top + 1, Height - 1);
        var upper = Values[(top * Width) + left] + (fx * (Values[(top * Width) + right] - Values[(top * Width) + left]));
        var lower = Values[(bottom * Width) + left] + (fx * (Values[(bottom * Width) + right] - Values[(bottom * Width) + left]));
        return upper + (fy * (lower - upper));
    }

    /// <summary>
    /// Bilinear value at a place, and how it grows per pixel to the right and downwards, over a pixel either side. The place
    /// must lie in [1, width − 2) × [1, height − 2).
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public (float Value, float ToTheRight, float Downwards) WithSlopeAt(double x, double y)
    {
        var left = (int)x;
        var top = (int)y;
        var fx = (float)(x - left);
        var fy = (float)(y - top);
        var above = Values.AsSpan(((top - 1) * Width) + left, 2);
        var upper = Values.AsSpan((top * Width) + left - 1, 4);
        var lower = Values.AsSpan(((top + 1) * Width) + left - 1, 4);
        var below = Values.AsSpan(((top + 2) * Width) + left, 2);
        var upperHere = upper[1] + (fx * (upper[2] - upper[1]));
        var lowerHere = lower[1] + (fx * (lower[2] - lower[1]));
        var upperSlope = (upper[2] - upper[0]) + (fx * (upper[3] - upper[1] - upper[2] + upper[0]));
        var lowerSlope = (lower[2] - lower[0]) + (fx * (lower[3] - lower[1] - lower[2] + lower[0]));
        var aboveHere = above[0] + (fx * (above[1] - above[0]));
        var belowHere = below[0] + (fx * (below[1] - below[0]));
        var downwardsFromUpper = lowerHere - aboveHere;
        var downwardsFromLower = belowHere - upperHere;
        return (
            upperHere + (fy * (lowerHere - upperHere)),
            0.5f * (upperSlope + (fy * (lowerSlope - upperSlope))),
            0.5f * (downwardsFromUpper + (fy * (downwardsFromLower - downwardsFromUpper))));
    }

    /// <summary>Cubic (Catmull–Rom) value at a place: keeps fine detail that the bilinear value blurs; bilinear within two pixels of the border.</summary>
    public float CubicAt(double x, double y)
    {
        var left = (int)Math.Floor(x);
        var top = (int)Math.Floor(y);
        if (left < 1 || top < 1 || left + 2 >= Width || top + 2 >= Height)
        {
            return At(x, y);
        }

        var fx = (float)(x - left);
        var fy = (float)(y - top);
        Span<float> across = stackalloc float[4];
        Span<float> down = stackalloc float[4];
        CatmullRom(fx, across);
        CatmullRom(fy, down);
        var sum = 0f;
        for (var row = 0; row < 4; row++)
        {
            var start = ((top - 1 + row) * Width) + left - 1;
            sum += down[row] * ((across[0] * Values[start]) + (across[1] * Values[start + 1])
                + (across[2] * Values[start + 2]) + (across[3] * Values[start + 3]));
        }

        return sum;
    }

    /// <summary>A rectangle cut out; parts outside repeat the border.</summary>
    public GreyImage Cut(int left, int top, int width, int height)
    {
        var cut = new GreyImage(width, height);
        for (var y = 0; y < height; y++)
        {
            var row = Math.Clamp(top + y, 0, Height - 1) * Width;
            for (var x = 0; x < width; x++)
            {
                cut.Values[(y * width) + x] = Values[row + Math.Clamp(left + x, 0, Width - 1)];
            }
        }

        return cut;
    }

    private static void CatmullRom(float t, Span<float> weights)
    {
        var t2 = t * t;
        var t3 = t2 * t;
        weights[0] = 0.5f * (-t + (2 * t2) - t3);
        weights[1] = 0.5f * (2 - (5 * t2) + (3 * t3));
        weights[2] = 0.5f * (t + (4 * t2) - (3 * t3));
        weights[3] = 0.5f * (-t2 + t3);
    }
}
