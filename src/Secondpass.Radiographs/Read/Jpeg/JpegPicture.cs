namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>A decoded JPEG picture, component by component; whether it is a file or stands inside one is not known here.</summary>
/// <param name="Segments">The parts that it was decoded from.</param>
/// <param name="Planes">Its components, in the order of the frame header.</param>
/// <param name="HasLoss">Whether the values are not exactly those that were coded: cosine coefficients, or bits left out.</param>
internal sealed record JpegPicture(JpegSegments Segments, IReadOnlyList<JpegPlane> Planes, bool HasLoss)
{
    private JpegFrame Frame => Segments.Frame;

    /// <summary>Whether three components are red, green and blue, by what the JPEG picture itself says.</summary>
    public bool IsRgb =>
        Segments.AdobeTransform is { } transform
            ? transform == 0
            : Segments.Jfif.IsEmpty && Frame.Components.Select(component => (char)component.Identifier).SequenceEqual("RGB");

    /// <summary>The values of the only component, row by row.</summary>
    public ushort[] Grey()
    {
        var plane = Planes[0];
        if (plane.Samples.Length == Frame.Width * Frame.Height)
        {
            return plane.Samples;
        }

        var pixels = new ushort[Frame.Width * Frame.Height];
        for (var y = 0; y < Frame.Height; y++)
        {
            plane.Samples.AsSpan(y * plane.Stride, Frame.Width).CopyTo(pixels.AsSpan(y * Frame.Width));
        }

        return pixels;
    }

    /// <summary>The brightness of three components, row by row.</summary>
    /// <param name="isRgb">Whether they are red, green and blue; else luma and two differences.</param>
    /// <param name="anyColour">Whether any pixel was not grey.</param>
    /// <param name="meaning">What the colours stand for.</param>
    public ushort[] Luma(bool isRgb, out bool anyColour, ColourMeaning meaning = ColourMeaning.Exported)
    {
        var greatest = (1 << Frame.Precision) - 1;
        anyColour = false;
        var pixels = new ushort[Frame.Width * Frame.Height];
        var (a, b, c) = (Planes[0], Planes[1], Planes[2]);
        for (var y = 0; y < Frame.Height; y++)
        {
            for (var x = 0; x < Frame.Width; x++)
            {
                var (red, green, blue) = (At(a, x, y), At(b, x, y), At(c, x, y));
                if (!isRgb)
                {
                    (red, green, blue) = Luminance.ToRgb(red, green, blue, Frame.Precision);
                }

                anyColour |= red != green || green != blue;
                pixels[(y * Frame.Width) + x] = meaning == ColourMeaning.Light ? Luminance.OfLight(red, green, blue, greatest) : Luminance.Of(red, green, blue);
            }
        }

        return pixels;
    }

    /// <summary>The values of all components as they were coded, pixel by pixel.</summary>
    public ushort[] Together()
    {
        var values = new ushort[Frame.Width * Frame.Height * Planes.Count];
        var at = 0;
        for (var y = 0; y < Frame.Height; y++)
        {
            for (var x = 0; x < Frame.Width; x++)
            {
                foreach (var plane in Planes)
                {
                    values[at++] = (ushort)At(plane, x, y);
                }
            }
        }

        return values;
    }

    private int At(JpegPlane plane, int x, int y) =>
        plane.Samples[(y * plane.Component.Vertical / Frame.GreatestVertical * plane.Stride) + (x * plane.Component.Horizontal / Frame.GreatestHorizontal)];
}
