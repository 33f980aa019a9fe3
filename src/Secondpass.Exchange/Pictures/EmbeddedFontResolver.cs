using PdfSharp.Drawing;
using PdfSharp.Fonts;

namespace Secondpass.Exchange.Pictures;

/// <summary>Gives the PDF library the embedded font, whatever font it asks for.</summary>
internal sealed class EmbeddedFontResolver : IFontResolver
{
    private const string Regular = "regular";
    private const string Bold = "bold";

    // The library keeps one resolver for the whole process and takes it before the first font only.
    static EmbeddedFontResolver() => GlobalFontSettings.FontResolver = new EmbeddedFontResolver();

    private EmbeddedFontResolver()
    {
    }

    /// <summary>The embedded font at a size.</summary>
    /// <param name="sizePoints">Size of the letters.</param>
    /// <param name="bold">Whether it is bold.</param>
    public static XFont Font(double sizePoints, bool bold) =>
        new(EmbeddedFont.Family, sizePoints, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);

    /// <inheritdoc/>
    public FontResolverInfo ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? Bold : Regular);

    /// <inheritdoc/>
    public byte[] GetFont(string faceName) => EmbeddedFont.Bytes(faceName == Bold);
}
