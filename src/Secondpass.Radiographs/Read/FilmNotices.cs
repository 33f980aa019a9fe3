using System.Globalization;

namespace Secondpass.Radiographs.Read;

/// <summary>Everything that a reader may want the dentist to know about a film that it did read, with its whole text.</summary>
internal static class FilmNotices
{
    /// <summary>Colour became grey.</summary>
    public const string ColourToGrey =
        "The file is in colour; its brightness was taken as the grey value. Shades that the colours stood for may be lost: a grey export is better.";

    /// <summary>The file has colour channels that hold no colour.</summary>
    public const string ColourButGrey = "The file is stored as colour, but every pixel is grey: nothing was lost.";

    /// <summary>Transparency was dropped.</summary>
    public const string TransparencyIgnored = "The file has a transparency channel; it was ignored.";

    /// <summary>Grey values were changed by compression before the film came here.</summary>
    public const string LossyCompression =
        "The film was compressed with loss (JPEG): fine detail and grey values are not exactly those of the sensor. An uncompressed export is better.";

    /// <summary>A PNG that moves.</summary>
    public const string AnimationIgnored = "The file holds an animation; only its still picture was read.";

    /// <summary>Zeros or negative numbers where a resolution should be.</summary>
    public const string UnusableResolution = "The file states a resolution of zero; it was ignored.";

    /// <summary>Grey values that came out of a table in the file.</summary>
    public const string GreyTableApplied =
        "The file carries a table that turns its stored numbers into grey values (modality LUT); it was applied.";

    /// <summary>A table of grey values that is none.</summary>
    public const string GreyTableNotApplied =
        "The file carries a table that changes its grey values (modality LUT), but it can't be used; the stored values were taken without it.";

    /// <summary>Another picture on the screen of the program that it came from.</summary>
    public const string ShownTableNotApplied =
        "The file asks to be shown through a table of greys (VOI LUT) that can't be used; it is shown without it and may look different elsewhere.";

    /// <summary>Two statements that exclude each other.</summary>
    public const string ShapeAgainstKind =
        "The file contradicts itself about which end of its grey values is to be shown light; its presentation shape was followed. Invert the view if it looks like a negative.";

    /// <summary>Values as they come from the sensor.</summary>
    public const string Unprocessed =
        "The file holds the sensor's unprocessed values (for processing): it may look flat, or like a negative.";

    /// <summary>A file that begins without its header.</summary>
    public const string NoPreamble = "The DICOM file has no proper beginning (preamble); it was read all the same.";

    /// <summary>A file whose encoding had to be guessed.</summary>
    public const string TransferSyntaxGuessed = "The DICOM file does not say how it is encoded; uncompressed little endian was assumed.";

    /// <summary>Odd lengths, unknown value representations, mixed encodings.</summary>
    public const string IrregularElements = "Parts of the DICOM file do not keep to the standard; they were skipped or read as well as possible.";

    /// <summary>Bytes that the file states are missing, but none of its picture.</summary>
    public const string CutOff = "The DICOM file ends a little before it should; its picture is complete.";

    /// <summary>A film that doesn't say which end of its grey values is light.</summary>
    public const string KindAssumed =
        "The file does not say which end of its grey values is to be shown light; the largest was taken for it (MONOCHROME2). Invert the view if it looks like a negative.";

    /// <summary>A film that doesn't say how many bits of a value are used.</summary>
    public static string BitsAssumed(int allocated) =>
        string.Create(CultureInfo.InvariantCulture, $"The file does not say how many bits of a grey value are used; all {allocated} were taken, so the film may look dark.");

    /// <summary>A window that has no width.</summary>
    public static string WindowIgnored(double width) =>
        string.Create(CultureInfo.InvariantCulture, $"The file asks to be shown with a window {width:0.####} wide, which is none; it was ignored, and the film may look different elsewhere.");

    /// <summary>A slope of zero or no number.</summary>
    public const string UnusableRescale = "The file's rescale slope is not usable; it was ignored.";

    /// <summary>Pixels that are longer one way than the other, without a size.</summary>
    public const string AspectNotSquare = "The file says that its pixels are not square; lengths and angles on it are distorted.";

    /// <summary>Several pages, one read.</summary>
    /// <param name="count">How many pictures there are.</param>
    public static string OnlyFirstPicture(int count) =>
        string.Create(CultureInfo.InvariantCulture, $"The file holds {count} pictures; the first was read.");

    /// <summary>The picture was turned as the file asks.</summary>
    public const string Turned = "The picture was turned upright as the file asks.";

    /// <summary>The picture was mirrored as the file asks.</summary>
    public const string Mirrored = "The picture was mirrored as the file asks: check left and right.";

    /// <summary>Both spacings stand in the file, and they differ.</summary>
    /// <param name="detectorMillimetres">Row spacing at the detector.</param>
    /// <param name="patientMillimetres">Row spacing in the patient.</param>
    /// <param name="how">How the file says that it was found, or null.</param>
    public static string SpacingCorrected(double detectorMillimetres, double patientMillimetres, string? how) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"The file gives {detectorMillimetres:0.####} mm per pixel at the sensor and {patientMillimetres:0.####} mm in the patient{(how is null ? " without saying how it was corrected" : ", " + how)}; the second was taken.");

    /// <summary>The spacing at the detector was divided by the magnification that the file states.</summary>
    public static string SpacingDivided(double detectorMillimetres, double magnification) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"The file gives {detectorMillimetres:0.####} mm per pixel at the sensor and an estimated magnification of {magnification:0.####}; the scale was divided by it.");

    /// <summary>The spacing at the detector was divided by the magnification that the distances in the file give.</summary>
    public static string SpacingDividedByDistances(double detectorMillimetres, double toDetectorMillimetres, double toPatientMillimetres) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"The file gives {detectorMillimetres:0.####} mm per pixel at the sensor, {toDetectorMillimetres:0.#} mm from the tube to the sensor and {toPatientMillimetres:0.#} mm to the patient, a magnification of {toDetectorMillimetres / toPatientMillimetres:0.####}; the scale was divided by it.");

    /// <summary>Distances that give a magnification that no intra-oral film has.</summary>
    public static string DistancesIgnored(double toDetectorMillimetres, double toPatientMillimetres) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"The file gives {toDetectorMillimetres:0.#} mm from the tube to the sensor and {toPatientMillimetres:0.#} mm to the patient, which is not plausible; it was ignored.");

    /// <summary>A magnification that no intra-oral film has.</summary>
    public static string MagnificationIgnored(double magnification) =>
        string.Create(CultureInfo.InvariantCulture, $"The file states a magnification of {magnification:0.####}, which is not plausible; it was ignored.");

    /// <summary>Pixels that are longer one way than the other.</summary>
    public static string SpacingNotSquare(double widthMillimetres, double heightMillimetres) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"The file says that its pixels are not square ({widthMillimetres:0.####} × {heightMillimetres:0.####} mm).");

    /// <summary>A film that was straightened from a photograph.</summary>
    public const string Photographed =
        "This film was straightened from a photograph: its greys went through a light box and a camera, and it may have lain face down. Check left and right.";
}
