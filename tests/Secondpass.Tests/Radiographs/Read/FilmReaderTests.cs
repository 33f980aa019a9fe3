using System.Text;
using static Secondpass.Tests.Radiographs.Read.Answers;

namespace Secondpass.Tests.Radiographs.Read;

public sealed class FilmReaderTests
{
    private const string Formats = "Films are read from DICOM, PNG, TIFF, JPEG and BMP files, whatever their name.";

    [Fact]
    public void Refuses_an_empty_file() => Refuses([], "empty_file", "The file is empty (0 bytes).", ExportAgain);

    [Theory]
    [InlineData("%PDF-1.7", "a PDF document", "Export the film itself from the program it was taken with. ")]
    [InlineData("PK\u0003\u0004....", "a ZIP archive or an office document", "Unpack it and choose the film inside. ")]
    [InlineData("Rar!....", "a RAR archive", "Unpack it and choose the film inside. ")]
    [InlineData("GIF89a", "a GIF picture", "GIF keeps only 256 shades and is not read: export the film as a grey PNG. ")]
    [InlineData("RIFF....WEBPVP8 ", "a WebP picture", "Export or save it as PNG. ")]
    [InlineData("....ftypheic", "a phone's photograph (HEIC or AVIF)", "A photograph of a screen can't be measured. Export the film itself from the program it was taken with. ")]
    [InlineData("....ftypisom", "a video", "Export the film itself from the program it was taken with. ")]
    [InlineData("....jP  ", "a JPEG 2000 picture", "Export or save it as PNG. ")]
    [InlineData("MZ\u0090\0....", "a Windows program", "Do not open it. Export the film itself from the program it was taken with. ")]
    [InlineData("\r\n <!DOCTYPE HTML><p>", "a web page (HTML), perhaps a sign-in page saved instead of the film", "Sign in and download the film again. ")]
    [InlineData("<html>", "a web page (HTML), perhaps a sign-in page saved instead of the film", "Sign in and download the film again. ")]
    [InlineData("<?xml version=\"1.0\"?>", "an XML or SVG text", "Export the film itself from the program it was taken with. ")]
    [InlineData("{\"schema\":1}", "a JSON text", "Export the film itself from the program it was taken with. ")]
    [InlineData("Dear colleague,", "a text", "Export the film itself from the program it was taken with. ")]
    public void Says_what_a_file_looks_like_that_is_no_film(string beginning, string looksLike, string advice) =>
        Refuses(
            Encoding.Latin1.GetBytes(beginning),
            "not_a_film",
            $"This file is not a film that can be read: it looks like {looksLike}.",
            advice + Formats);

    [Fact]
    public void Shows_the_first_bytes_of_a_file_that_nobody_knows() =>
        Refuses(
            [0x00, 0x01, 0xAB, 0xCD, 0xEF, 0x10, 0x20, 0x30, 0x40],
            "not_a_film",
            "This file is not a film that can be read: it looks like nothing that is known here (it begins with the bytes 00 01 AB CD EF 10 20 30).",
            "Export the film itself from the program it was taken with. " + Formats);

    [Fact]
    public void Refuses_a_film_too_small_to_be_one() =>
        Refuses(
            PngFile.Sound(63, 70),
            "film_too_small",
            "This picture is 63 × 70 pixels; a film needs at least 64 × 64.",
            "This is probably a preview: export the film at its full size.");

    [Theory]
    [InlineData(20001, 64)]
    [InlineData(64, 20001)]
    [InlineData(8001, 8000)]
    public void Refuses_a_film_too_large_to_be_one(int width, int height) =>
        Refuses(
            PngFile.Join(PngFile.Header(width, height), PngFile.Block("IEND", [])),
            "film_too_large",
            $"This PNG file states a picture of {width} × {height} pixels; films are read up to 20000 pixels a side and 64 million pixels in all (256 million bytes).",
            "No intra-oral film is that large: check that this is the right file, and export it again at its own size.");

    // 8000 × 8000 is within the limit in grey, and beyond it with six bytes to the pixel.
    [Fact]
    public void Counts_the_depth_and_the_channels_too() =>
        Assert.Equal("film_too_large", Refused(PngFile.Join(PngFile.Header(8000, 8000, 16, 2), PngFile.Block("IEND", []))).Code);

    [Fact]
    public void Refuses_a_film_on_which_nothing_is_to_be_seen()
    {
        var rows = new byte[64 * 65];
        for (var i = 0; i < rows.Length; i++)
        {
            rows[i] = i % 65 == 0 ? (byte)0 : (byte)128;
        }

        Refuses(
            PngFile.Of(64, 64, rows),
            "blank_film",
            "Every pixel of this film has the same grey value (128 of 255): nothing is to be seen on it.",
            "Check that the right film was exported, and export it again.");
    }

    [Fact]
    public void Gives_the_figures_of_a_refused_size_for_machines()
    {
        var evidence = Refused(PngFile.Sound(63, 70)).Evidence;

        Assert.Equal((63, 70), (evidence["width_px"], evidence["height_px"]));
    }

    // DICOM PS3.10, 7.1: the preamble is free, so a file can look like TIFF at its beginning and be DICOM.
    [Fact]
    public void A_DICOM_file_whose_preamble_looks_like_TIFF_is_a_DICOM_file()
    {
        var file = DicomFile.Sound();
        "II*\0"u8.CopyTo(file);

        Assert.Equal(Secondpass.Domain.Films.FilmFormat.Dicom, Film(file).Format);
    }
}
