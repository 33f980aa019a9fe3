using Secondpass.Domain.Evidence;

namespace Secondpass.Radiographs.Read;

/// <summary>The grey value of a colour: its luma, the weighted sum of the values as they are encoded (no gamma is undone).</summary>
/// <remarks>Weights after Recommendation ITU-R BT.709-6; a grey colour keeps its value exactly.</remarks>
internal static class Luminance
{
    private const int Scale = 10_000;
    private static readonly int Red = (int)Math.Round(FilmReading.RedWeight.Value * Scale, MidpointRounding.AwayFromZero);
    private static readonly int Green = (int)Math.Round(FilmReading.GreenWeight.Value * Scale, MidpointRounding.AwayFromZero);
    private static readonly int Blue = (int)Math.Round(FilmReading.BlueWeight.Value * Scale, MidpointRounding.AwayFromZero);

    /// <summary>The luma of a colour, rounded to the nearest value of the same depth, halves up.</summary>
    /// <param name="red">0 to 65535.</param>
    /// <param name="green">0 to 65535.</param>
    /// <param name="blue">0 to 65535.</param>
    public static ushort Of(int red, int green, int blue) =>
        (ushort)(((Red * red) + (Green * green) + (Blue * blue) + (Scale / 2)) / Scale);

    /// <summary>The grey that shines as bright as a colour: its parts are taken as light, weighted, and encoded again (IEC 61966-2-1).</summary>
    /// <remarks>A grey colour keeps its value exactly. For pictures from a camera, whose values are encoded so; the weights are those of <see cref="Of"/>.</remarks>
    /// <param name="red">0 to <paramref name="greatest"/>.</param>
    /// <param name="green">0 to <paramref name="greatest"/>.</param>
    /// <param name="blue">0 to <paramref name="greatest"/>.</param>
    /// <param name="greatest">The greatest value of the depth.</param>
    public static ushort OfLight(int red, int green, int blue, int greatest)
    {
        if (red == green && green == blue)
        {
            return (ushort)red;
        }

        var light = (FilmReading.RedWeight.Value * CameraLight.Of((double)red / greatest))
            + (FilmReading.GreenWeight.Value * CameraLight.Of((double)green / greatest))
            + (FilmReading.BlueWeight.Value * CameraLight.Of((double)blue / greatest));
        return (ushort)Math.Round(CameraLight.Encoded(light) * greatest, MidpointRounding.AwayFromZero);
    }

    /// <summary>Red, green and blue from luma and two colour differences (ITU-T T.871, clause 7, in 16 fractional bits).</summary>
    /// <param name="luma">0 to the greatest value.</param>
    /// <param name="blueDifference">0 to the greatest value; half of the range is none.</param>
    /// <param name="redDifference">0 to the greatest value; half of the range is none.</param>
    /// <param name="depth">Bits of a value, at most 16.</param>
    public static (int Red, int Green, int Blue) ToRgb(int luma, int blueDifference, int redDifference, int depth)
    {
        const long half = 1 << 15;
        var (greatest, centre) = ((1 << depth) - 1, 1 << (depth - 1));
        long toBlue = blueDifference - centre, toRed = redDifference - centre;
        return (
            Kept(((91881 * toRed) + half) >> 16),
            Kept(((-22554 * toBlue) - (46802 * toRed) + half) >> 16),
            Kept(((116130 * toBlue) + half) >> 16));

        int Kept(long more) => (int)Math.Clamp(luma + more, 0, greatest);
    }

    /// <summary>The notice that goes with a file of colour channels.</summary>
    /// <param name="anyColour">Whether any pixel was not grey.</param>
    public static string Notice(bool anyColour) => anyColour ? FilmNotices.ColourToGrey : FilmNotices.ColourButGrey;
}
