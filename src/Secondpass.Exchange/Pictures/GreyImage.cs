namespace Secondpass.Exchange.Pictures;

/// <summary>Eight-bit grey pixels for the eye. Not a film: nothing is measured on it.</summary>
public sealed class GreyImage
{
    private readonly byte[] pixels;

    /// <summary>Makes an image.</summary>
    /// <param name="width">Columns, at least 1.</param>
    /// <param name="height">Rows, at least 1.</param>
    /// <param name="pixels">Row by row from the top, 0 black to 255 white; exactly width × height. Not copied.</param>
    /// <exception cref="ArgumentException">The number of pixels is not width × height.</exception>
    public GreyImage(int width, int height, byte[] pixels)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(width, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(height, 1);
        ArgumentNullException.ThrowIfNull(pixels);
        if (pixels.Length != (long)width * height)
        {
            throw new ArgumentException("An image has width × height pixels.", nameof(pixels));
        }

        Width = width;
        Height = height;
        this.pixels = pixels;
    }

    /// <summary>Columns.</summary>
    public int Width { get; }

    /// <summary>Rows.</summary>
    public int Height { get; }

    /// <summary>Row by row from the top, 0 black to 255 white.</summary>
    public ReadOnlySpan<byte> Pixels => pixels;
}
