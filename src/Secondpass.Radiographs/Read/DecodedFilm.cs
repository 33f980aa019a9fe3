using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Read;

/// <summary>What one format's reader found, upright and as one grey channel. Not yet a <see cref="Radiograph"/>: whether it shows anything has not been looked at.</summary>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="Pixels">Grey values, row by row from the top, larger is lighter; exactly width × height.</param>
/// <param name="GreatestValue">The greatest value that the file's depth can hold.</param>
/// <param name="Spacing">The scale that the file states, whether or not it is plausible; or null.</param>
/// <param name="ShownWindow">The window that the file asks for, on the scale of <paramref name="Pixels"/>; or null.</param>
/// <param name="Notices">What the dentist should know, in sentences.</param>
internal sealed record DecodedFilm(
    int Width,
    int Height,
    ushort[] Pixels,
    int GreatestValue,
    FileSpacing? Spacing,
    GreyWindow? ShownWindow,
    IReadOnlyList<string> Notices)
{
    /// <summary>The curve of shades that the file asks for; null for none or a straight one.</summary>
    public GreyCurve? ShownCurve { get; init; }

    /// <summary>How it was made of a photograph of a film; null when it was not.</summary>
    public PhotographedFilm? Photographed { get; init; }
}
