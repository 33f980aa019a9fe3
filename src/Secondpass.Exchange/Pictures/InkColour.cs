using System.Globalization;

namespace Secondpass.Exchange.Pictures;

/// <summary>An ink on white paper, as red, green and blue from 0 to 255.</summary>
internal readonly record struct InkColour(byte Red, byte Green, byte Blue)
{
    /// <summary>How much of the page's ink the quiet one is: dark grey on white, light grey on black, both above 4.5 : 1 in contrast.</summary>
    public const double QuietOpacity = 0.7;

    /// <summary>The colour of an ink on white paper.</summary>
    public static InkColour Of(Ink ink) => ink switch
    {
        Ink.Page or Ink.Black => new(0, 0, 0),
        Ink.Quiet => new(77, 77, 77),
        Ink.White => new(255, 255, 255),
        Ink.Amber => new(255, 184, 28),
        Ink.Blue => new(150, 215, 255),
        _ => throw new ArgumentOutOfRangeException(nameof(ink), ink, "No such ink."),
    };

    /// <summary>The colour as a page writes it, such as #ffb81c.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"#{Red:x2}{Green:x2}{Blue:x2}");
}
