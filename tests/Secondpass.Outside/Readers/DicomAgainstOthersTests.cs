using Secondpass.Domain.Films;
using Secondpass.Radiographs.Identify;

namespace Secondpass.Outside.Readers;

public sealed class DicomAgainstOthersTests
{
    // dcm2pnm cuts the shown value down to a whole number.
    private const double OneShade = 1;

    // Writers: pydicom, dcmtk (dcmconv, img2dcm, dcmcjpls). Stored values: pydicom.
    // What is light and what the window is: dcm2pnm. What the scale means: DICOM PS3.3, 10.7.1, written beside each file in the script.
    [Fact]
    public void Reads_every_DICOM_film_bit_for_bit_as_pydicom_does_and_shows_it_as_dcm2pnm_does() =>
        Assert.Equal((140, 5), ForeignFilms.Check("films_dicom.py", FilmFormat.Dicom, ShownOrMeantOtherwise));

    // Writers: dcmtk (dcmcjpeg, dcmcrle, dcmconv, img2dcm), pydicom, and for restart marks and odd depths an encoder in lossless_jpeg.py
    // whose files dcmdjpeg reads. Unpacked by dcmtk (dcmdjpeg, dcmdrle, dcmconv), pydicom and Pillow.
    // Only colour in half resolution has a tolerance: dcmdjpeg smooths it between pixels, which T.81 leaves open.
    [Fact]
    public void Reads_every_packed_DICOM_film_bit_for_bit_as_dcmtk_and_pydicom_do() =>
        Assert.Equal((226, 0), ForeignFilms.Check("films_dicom_packed.py", FilmFormat.Dicom));

    private static string? ShownOrMeantOtherwise(string folder, ForeignFile file, Radiograph film)
    {
        if (file.File.StartsWith("spacing", StringComparison.Ordinal) && film.Spacing?.Meaning.ToString() != file.Meaning)
        {
            return $"its scale is {film.Spacing?.Meaning.ToString() ?? "none"} and not {file.Meaning ?? "none"}";
        }

        if (file.Subject is not null && Said(File.ReadAllBytes(Path.Combine(folder, file.File))) is var said && said != file.Subject)
        {
            return $"says {said} and not {file.Subject}";
        }

        if (file.Shown is null)
        {
            return null;
        }

        var expected = File.ReadAllBytes(Path.Combine(folder, file.Shown));
        var pixels = film.Pixels.ToArray();
        var window = film.ShownWindow ?? new GreyWindow(pixels.Min(), pixels.Max());
        var greatest = 0.0;
        for (var i = 0; i < pixels.Length; i++)
        {
            var shade = film.ShownCurve is { } curve ? curve.Shades.Span[pixels[i]] : 255 * Math.Clamp((pixels[i] - window.Black) / (window.White - window.Black), 0, 1);
            greatest = Math.Max(greatest, Math.Abs(shade - expected[i]));
        }

        return greatest > OneShade
            ? string.Create(CultureInfo.InvariantCulture, $"is shown otherwise by dcm2pnm, by up to {greatest:0.##} of 255 shades (window {window})")
            : null;
    }

    private static string Said(byte[] file)
    {
        var stated = IdentityReader.Read(file);
        var teeth = string.Join(',', stated.Teeth.Select(tooth => tooth.Number));
        return string.Join('|', stated.PatientName, stated.PatientNumber, Day(stated.Born), Day(stated.TakenAt), teeth);
    }

    private static string? Day(IFormattable? day) => day?.ToString("yyyyMMdd", CultureInfo.InvariantCulture);
}
