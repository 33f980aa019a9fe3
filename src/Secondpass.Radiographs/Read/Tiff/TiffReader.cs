using Secondpass.Domain;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Read.Tiff;

/// <summary>Reads TIFF files. See README.md beside this file.</summary>
internal static class TiffReader
{
    /// <summary>The format's name in messages.</summary>
    public const string Name = "TIFF";

    private const ushort ResolutionXTag = 282, ResolutionYTag = 283, ResolutionUnitTag = 296;
    private const double MillimetresPerCentimetre = 10;

    /// <summary>Reads the film.</summary>
    /// <param name="file">The whole file.</param>
    public static Answer<DecodedFilm> Read(ReadOnlyMemory<byte> file)
    {
        if (TiffDetector.IsBig(file.Span))
        {
            return FilmRefusals.Unsupported(Name, "the form for files beyond 4 GB (BigTIFF)");
        }

        if (TiffDirectory.Parse(file) is not { IsBroken: false } directory)
        {
            return FilmRefusals.Damaged(Name, "its directory can't be read");
        }

        if (!TiffLayout.From(directory, file.Length).TryGet(out var layout, out var refusal)
            || !TiffPixels.Unpack(file, layout).TryGet(out var pixels, out refusal))
        {
            return refusal;
        }

        var notices = new List<string>();
        if (layout.IsColour)
        {
            notices.Add(Luminance.Notice(pixels.AnyColour));
        }

        if (layout.Channels != (layout.IsColour ? 3 : 1))
        {
            notices.Add(FilmNotices.TransparencyIgnored);
        }

        if (directory.PictureCount > 1)
        {
            notices.Add(FilmNotices.OnlyFirstPicture(directory.PictureCount));
        }

        var film = new DecodedFilm(layout.Width, layout.Height, pixels.Values, (1 << layout.Depth) - 1, Spacing(directory, notices), null, notices);
        return Orientation.Upright(film, directory.Number(Orientation.Tag) ?? 1);
    }

    // TIFF 6.0, section 8: unit 1 is none, 2 (the default) the inch, 3 the centimetre.
    private static FileSpacing? Spacing(TiffDirectory directory, List<string> notices)
    {
        var unit = directory.Number(ResolutionUnitTag) ?? 2;
        return directory.Fraction(ResolutionXTag) is not { } x || directory.Fraction(ResolutionYTag) is not { } y || unit is not (2 or 3)
            ? null
            : StatedResolution.ToSpacing(x, y, unit == 2 ? StatedResolution.MillimetresPerInch : MillimetresPerCentimetre, notices);
    }
}
