using PdfSharp.Drawing;
using PdfSharp.Fonts;

namespace Secondpass.Exchange.Pictures;

/// <summary>Gives the PDF library the embedded font, whatever font it asks for.</summary>
internal sealed class EmbeddedFontResolver : IFontResolver
{
    private const string Bold = "-bold";

    // The library keeps one resolver for the whole process and takes it before the first font only.
    static EmbeddedFontResolver() => GlobalFontSettings.FontResolver = new EmbeddedFontResolver();

    private EmbeddedFontResolver()
    {
    }

    /// <summary>The embedded font at a size.</summary>
    /// <param name="sizePoints">Size of the letters.</param>
    /// <param name="bold">Whether it is bold.</param>
    /// <param name="narrow">Whether it is the narrow one.</param>
    public static XFont Font(double sizePoints, bool bold, bool narrow = false) =>
        new(narrow ? EmbeddedFont.NarrowFamily : EmbeddedFont.Family, sizePoints, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);

    /// <inheritdoc/>
    public FontResolverInfo ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(familyName + (isBold ? Bold : string.Empty));

    /// <inheritdoc/>
    public byte[] GetFont(string faceName) =>
        EmbeddedFont.Bytes(faceName.EndsWith(Bold, StringComparison.Ordinal), faceName.StartsWith(EmbeddedFont.NarrowFamily, StringComparison.Ordinal));
}
