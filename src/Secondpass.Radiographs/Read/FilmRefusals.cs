using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Read;

/// <summary>Every refusal that reading a film can end in, with its whole text.</summary>
internal static class FilmRefusals
{
    private const string ExportAgain = "Export or copy the film again from the program it was taken with; this file was not changed.";

    /// <summary>There are no bytes.</summary>
    public static Refusal Empty() => new(
        "empty_file",
        "The file is empty (0 bytes).",
        ExportAgain);

    /// <summary>The content is none of the formats that are read.</summary>
    /// <param name="looksLike">What the first bytes are, such as "a PDF document", or the bytes themselves.</param>
    /// <param name="advice">What helps with such a file, as a sentence; or null.</param>
    public static Refusal NotAFilm(string looksLike, string? advice) => new(
        "not_a_film",
        $"This file is not a film that can be read: it looks like {looksLike}.",
        (advice is null ? string.Empty : advice + " ") + "Films are read from DICOM, PNG, TIFF, JPEG and BMP files, whatever their name.");

    /// <summary>The file is of a known format but breaks its rules.</summary>
    /// <param name="format">The format's name.</param>
    /// <param name="what">What is wrong, as half a sentence.</param>
    public static Refusal Damaged(string format, string what) => new(
        "damaged_film",
        $"This {format} file is damaged or incomplete: {what}.",
        ExportAgain);

    /// <summary>The file is of a known format, but of a kind that is not read.</summary>
    /// <param name="format">The format's name.</param>
    /// <param name="kind">The kind, as the end of the sentence "This file uses …".</param>
    /// <param name="remedy">What to do.</param>
    public static Refusal Unsupported(string format, string kind, string remedy = "Export the film as DICOM without compression, or as a grey PNG or TIFF.") => new(
        "unsupported_film",
        $"This {format} file uses {kind}, which is not read here.",
        remedy);

    /// <summary>The file is of a format that no camera writes.</summary>
    /// <param name="format">Its format.</param>
    public static Refusal NotPhotograph(FilmFormat format) => new(
        "not_a_photograph",
        $"This is a {format.ToString().ToUpperInvariant()} file; a photograph of a film is a JPEG or PNG file.",
        "If it is a photograph all the same, save it as JPEG or PNG first.");

    /// <summary>The file holds several pictures where one is one film.</summary>
    /// <param name="frames">How many.</param>
    public static Refusal SeveralFrames(long frames) => new(
        "several_frames",
        string.Create(CultureInfo.InvariantCulture, $"This DICOM file holds {frames} pictures (frames); a film is one picture."),
        "Export the one picture you need as a file of its own.",
        new Dictionary<string, double> { ["frames"] = frames });

    /// <summary>The DICOM file holds something else than a picture.</summary>
    /// <param name="what">What it holds, as the end of the sentence "This DICOM file …".</param>
    /// <param name="remedy">What to do.</param>
    public static Refusal NoPicture(string what, string remedy) => new(
        "no_picture",
        $"This DICOM file {what}.",
        remedy);

    /// <summary>The header states more than is read.</summary>
    public static Refusal TooLarge(string format, long width, long height) => new(
        "film_too_large",
        string.Create(
            CultureInfo.InvariantCulture,
            $"This {format} file states a picture of {width} × {height} pixels; films are read up to {FilmReading.GreatestSide.Value} pixels a side and {FilmReading.GreatestPixelCount.Value / 1_000_000} million pixels in all ({FilmReading.GreatestUnpackedBytes.Value / 1_000_000} million bytes)."),
        "No intra-oral film is that large: check that this is the right file, and export it again at its own size.",
        new Dictionary<string, double> { ["width_px"] = width, ["height_px"] = height });

    /// <summary>The picture is too small to be a film.</summary>
    public static Refusal TooSmall(long width, long height) => new(
        "film_too_small",
        string.Create(
            CultureInfo.InvariantCulture,
            $"This picture is {width} × {height} pixels; a film needs at least {FilmReading.SmallestSide.Value} × {FilmReading.SmallestSide.Value}."),
        "This is probably a preview: export the film at its full size.",
        new Dictionary<string, double> { ["width_px"] = width, ["height_px"] = height });

    /// <summary>All pixels are alike.</summary>
    public static Refusal Blank(int value, int greatestValue) => new(
        "blank_film",
        string.Create(CultureInfo.InvariantCulture, $"Every pixel of this film has the same grey value ({value} of {greatestValue}): nothing is to be seen on it."),
        "Check that the right film was exported, and export it again.",
        new Dictionary<string, double> { ["value"] = value, ["greatest_value"] = greatestValue });
}
