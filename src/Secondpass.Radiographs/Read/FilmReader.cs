using System.Security.Cryptography;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read.Bmp;
using Secondpass.Radiographs.Read.Dicom;
using Secondpass.Radiographs.Read.Jpeg;
using Secondpass.Radiographs.Read.Png;
using Secondpass.Radiographs.Read.Tiff;

namespace Secondpass.Radiographs.Read;

/// <summary>Reads a film from the bytes of a file, whatever the file is called.</summary>
public static class FilmReader
{
    /// <summary>Reads a film.</summary>
    /// <param name="bytes">The whole file. Not changed and not kept.</param>
    /// <returns>
    /// The film upright, one grey channel, larger values lighter, in the file's own depth; with what the file says of its
    /// scale and window, and notices of everything that was left out or changed. Or a refusal: <c>empty_file</c>,
    /// <c>not_a_film</c>, <c>damaged_film</c>, <c>unsupported_film</c>, <c>several_frames</c>, <c>no_picture</c>,
    /// <c>film_too_large</c>, <c>film_too_small</c>, <c>blank_film</c>.
    /// </returns>
    /// <remarks>
    /// The format is found by content. Size and depth are checked against <see cref="Domain.Evidence.FilmReading"/> before
    /// anything of the picture's size is allocated, and against what the bytes can hold; no content makes it throw.
    /// Each format's specification and limits stand in the README.md of its folder.
    /// </remarks>
    public static Answer<Radiograph> Read(ReadOnlyMemory<byte> bytes) => Read(bytes, ColourMeaning.Exported);

    /// <summary>Reads a photograph of a film: as <see cref="Read(ReadOnlyMemory{byte})"/>, but a colour becomes the grey that shines as bright.</summary>
    /// <param name="bytes">The whole file, PNG or JPEG. Not changed and not kept.</param>
    /// <returns>The picture, its values encoded as the camera did; or a refusal, <c>not_a_photograph</c> for another format among them.</returns>
    public static Answer<Radiograph> ReadPhotograph(ReadOnlyMemory<byte> bytes) => Read(bytes, ColourMeaning.Light);

    private static Answer<Radiograph> Read(ReadOnlyMemory<byte> bytes, ColourMeaning meaning)
    {
        if (bytes.IsEmpty)
        {
            return FilmRefusals.Empty();
        }

        if (Find(bytes.Span) is not { } format)
        {
            return ForeignContent.Refuse(bytes.Span);
        }

        var read = format switch
        {
            FilmFormat.Png => PngReader.Read(bytes, meaning),
            FilmFormat.Jpeg => JpegReader.Read(bytes, meaning),
            _ when meaning == ColourMeaning.Light => FilmRefusals.NotPhotograph(format),
            FilmFormat.Dicom => DicomReader.Read(bytes),
            FilmFormat.Bmp => BmpReader.Read(bytes),
            _ => TiffReader.Read(bytes),
        };
        if (!read.TryGet(out var film, out var refusal))
        {
            return refusal;
        }

        if (!film.Pixels.AsSpan().ContainsAnyExcept(film.Pixels[0]))
        {
            return FilmRefusals.Blank(film.Pixels[0], film.GreatestValue);
        }

        return new Radiograph(
            film.Width,
            film.Height,
            film.Pixels,
            film.GreatestValue,
            format,
            Convert.ToHexStringLower(SHA256.HashData(bytes.Span)),
            film.Spacing,
            film.ShownWindow,
            film.Notices)
        {
            ShownCurve = film.ShownCurve,
            Photographed = film.Photographed,
        };
    }

    // DICOM's mark comes first: its preamble may hold the beginning of a TIFF file (PS3.10, 7.1).
    // A DICOM file without its mark is the weakest guess and comes last.
    private static FilmFormat? Find(ReadOnlySpan<byte> file) => file switch
    {
        _ when DicomDetector.HasPreamble(file) => FilmFormat.Dicom,
        _ when PngDetector.Recognises(file) => FilmFormat.Png,
        _ when JpegDetector.Recognises(file) => FilmFormat.Jpeg,
        _ when TiffDetector.Recognises(file) => FilmFormat.Tiff,
        _ when BmpDetector.Recognises(file) => FilmFormat.Bmp,
        _ when DicomDetector.BeginsWithoutPreamble(file) => FilmFormat.Dicom,
        _ => null,
    };
}
