using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read;

namespace Secondpass.Tests.Radiographs.Read;

/// <summary>Reads files in tests and looks at the answers.</summary>
internal static class Answers
{
    public const string ExportAgain = "Export or copy the film again from the program it was taken with; this file was not changed.";

    public const string ExportOtherwise = "Export the film as DICOM without compression, or as a grey PNG or TIFF.";

    public const string LossyCompression =
        "The film was compressed with loss (JPEG): fine detail and grey values are not exactly those of the sensor. An uncompressed export is better.";

    public const string ColourToGrey =
        "The file is in colour; its brightness was taken as the grey value. Shades that the colours stood for may be lost: a grey export is better.";

    public const string ColourButGrey = "The file is stored as colour, but every pixel is grey: nothing was lost.";

    public const string TransparencyIgnored = "The file has a transparency channel; it was ignored.";

    public static Radiograph Film(byte[] file) => FilmReader.Read(file).Value;

    public static Refusal Refused(byte[] file) => FilmReader.Read(file).Refusal;

    /// <summary>That a file is refused with exactly these words.</summary>
    public static void Refuses(byte[] file, string code, string reason, string remedy)
    {
        var refusal = Refused(file);

        Assert.Equal((code, reason, remedy), (refusal.Code, refusal.Reason, refusal.Remedy));
    }

    /// <summary>That a file is refused as damaged for this fault.</summary>
    public static void RefusesAsDamaged(byte[] file, string format, string what) =>
        Refuses(file, "damaged_film", $"This {format} file is damaged or incomplete: {what}.", ExportAgain);

    /// <summary>That a file is refused by the name of what is not read.</summary>
    public static void RefusesByName(byte[] file, string format, string kind) =>
        Refuses(file, "unsupported_film", $"This {format} file uses {kind}, which is not read here.", ExportOtherwise);

    /// <summary>One of the sound films that other software wrote; see its README.</summary>
    public static byte[] Seed(string name) => File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Seeds", name));

    /// <summary>The values of a column of a film.</summary>
    public static ushort At(this Radiograph film, int x, int y) => film.Pixels[(y * film.Width) + x];
}
