namespace Secondpass.Domain.Films;

/// <summary>One radiograph as read from a file: grey values, their depth, and what the file says of its scale.</summary>
/// <remarks>
/// Not a picture for a screen: values keep the file's own scale, no window and no gamma is applied, and
/// nothing is ever written back. Larger values are lighter on the screen, as the file means them to be shown.
/// Whether lighter means more radiopaque is not assumed: a sensor's program may have inverted the film.
/// The original bytes are kept elsewhere under <see cref="Sha256"/>.
/// </remarks>
public sealed class Radiograph
{
    private readonly ushort[] pixels;

    /// <summary>Makes a film from its parts.</summary>
    /// <param name="width">Columns, at least 1.</param>
    /// <param name="height">Rows, at least 1.</param>
    /// <param name="pixels">Grey values, row by row from the top; exactly width × height. Not copied: do not change it afterwards.</param>
    /// <param name="greatestValue">The greatest value that the file's depth can hold, such as 255, 4095 or 65535.</param>
    /// <param name="format">The format that it was read from.</param>
    /// <param name="sha256">SHA-256 of the original bytes, 64 lower-case hexadecimal digits.</param>
    /// <param name="spacing">The scale that the file states, or null.</param>
    /// <param name="shownWindow">The window that the file asks to be shown with, or null.</param>
    /// <param name="notices">What the reader wants said, in sentences for the dentist.</param>
    /// <exception cref="ArgumentException">The number of pixels is not width × height.</exception>
    public Radiograph(
        int width,
        int height,
        ushort[] pixels,
        int greatestValue,
        FilmFormat format,
        string sha256,
        FileSpacing? spacing = null,
        GreyWindow? shownWindow = null,
        IReadOnlyList<string>? notices = null)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(width, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(height, 1);
        ArgumentNullException.ThrowIfNull(pixels);
        if (pixels.Length != (long)width * height)
        {
            throw new ArgumentException("A film has width × height pixels.", nameof(pixels));
        }

        Width = width;
        Height = height;
        this.pixels = pixels;
        GreatestValue = greatestValue;
        Format = format;
        Sha256 = sha256;
        Spacing = spacing;
        ShownWindow = shownWindow;
        Notices = notices ?? [];
    }

    /// <summary>Columns.</summary>
    public int Width { get; }

    /// <summary>Rows.</summary>
    public int Height { get; }

    /// <summary>Grey values, row by row from the top.</summary>
    public ReadOnlySpan<ushort> Pixels => pixels;

    /// <summary>The greatest value that the file's depth can hold.</summary>
    public int GreatestValue { get; }

    /// <summary>The format that it was read from.</summary>
    public FilmFormat Format { get; }

    /// <summary>SHA-256 of the original bytes, 64 lower-case hexadecimal digits.</summary>
    public string Sha256 { get; }

    /// <summary>The scale that the file states, or null when it states none.</summary>
    public FileSpacing? Spacing { get; }

    /// <summary>The window that the file asks to be shown with, or null.</summary>
    public GreyWindow? ShownWindow { get; }

    /// <summary>The curve of shades that the file asks to be shown with, within <see cref="ShownWindow"/>; null where it asks for none or a straight one.</summary>
    public GreyCurve? ShownCurve { get; init; }

    /// <summary>What the reader wants said, in sentences for the dentist.</summary>
    public IReadOnlyList<string> Notices { get; }

    /// <summary>How it was made of a photograph of a film on a light box; null when it was not.</summary>
    public PhotographedFilm? Photographed { get; init; }

    /// <summary>Whether a place lies on the film, the outer half pixel included.</summary>
    public bool Holds(PixelPoint place) =>
        place.X >= -0.5 && place.Y >= -0.5 && place.X <= Width - 0.5 && place.Y <= Height - 0.5;
}
