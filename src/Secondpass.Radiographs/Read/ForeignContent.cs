using System.Globalization;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read;

/// <summary>Says what a file that is no film looks like, by its first bytes, and what helps with it.</summary>
internal static class ForeignContent
{
    private const string ExportPicture = "Export the film itself from the program it was taken with.";
    private const string Unpack = "Unpack it and choose the film inside.";

    private const int ShownBytes = 8;

    /// <summary>The refusal for content that no reader recognises.</summary>
    /// <param name="file">The whole file; not empty.</param>
    public static Refusal Refuse(ReadOnlySpan<byte> file)
    {
        var (looksLike, advice) = Recognise(file);
        if (looksLike is not null)
        {
            return FilmRefusals.NotAFilm(looksLike, advice);
        }

        var shown = Convert.ToHexString(file[..Math.Min(ShownBytes, file.Length)]);
        var bytes = string.Join(' ', shown.Chunk(2).Select(pair => new string(pair)));
        return FilmRefusals.NotAFilm(
            string.Create(CultureInfo.InvariantCulture, $"nothing that is known here (it begins with the bytes {bytes})"),
            ExportPicture);
    }

    private static (string? LooksLike, string? Advice) Recognise(ReadOnlySpan<byte> file)
    {
        var text = SkipBlank(file);
        return file switch
        {
            _ when file.StartsWith("%PDF"u8) => ("a PDF document", ExportPicture),
            _ when file.StartsWith("PK\u0003\u0004"u8) => ("a ZIP archive or an office document", Unpack),
            _ when file.StartsWith("Rar!"u8) => ("a RAR archive", Unpack),
            _ when StartsWith(file, 0x37, 0x7A, 0xBC, 0xAF) => ("a 7z archive", Unpack),
            _ when StartsWith(file, 0x1F, 0x8B) => ("a gzip archive", Unpack),
            _ when file.StartsWith("GIF8"u8) => ("a GIF picture", "GIF keeps only 256 shades and is not read: export the film as a grey PNG."),
            _ when file.StartsWith("RIFF"u8) && At(file, 8, "WEBP"u8) => ("a WebP picture", "Export or save it as PNG."),
            _ when At(file, 4, "ftyphei"u8) || At(file, 4, "ftypmif1"u8) || At(file, 4, "ftypavif"u8) => ("a phone's photograph (HEIC or AVIF)", "A photograph of a screen can't be measured. " + ExportPicture),
            _ when At(file, 4, "ftyp"u8) => ("a video", ExportPicture),
            _ when At(file, 4, "jP  "u8) || StartsWith(file, 0xFF, 0x4F, 0xFF, 0x51) => ("a JPEG 2000 picture", "Export or save it as PNG."),
            _ when StartsWith(file, 0xFF, 0x0A) || At(file, 4, "JXL "u8) => ("a JPEG XL picture", "Export or save it as PNG."),
            _ when StartsWith(file, 0xD0, 0xCF, 0x11, 0xE0) => ("an old office document", ExportPicture),
            _ when file.StartsWith("MZ"u8) => ("a Windows program", "Do not open it. " + ExportPicture),
            _ when StartsWithText(text, "<!doctype html"u8) || StartsWithText(text, "<html"u8) => ("a web page (HTML), perhaps a sign-in page saved instead of the film", "Sign in and download the film again."),
            _ when StartsWithText(text, "<svg"u8) || StartsWithText(text, "<?xml"u8) => ("an XML or SVG text", ExportPicture),
            _ when StartsWithText(text, "{"u8) || StartsWithText(text, "["u8) => ("a JSON text", ExportPicture),
            _ when IsText(file) => ("a text", ExportPicture),
            _ => (null, null),
        };
    }

    private static bool StartsWith(ReadOnlySpan<byte> file, params ReadOnlySpan<byte> bytes) => file.StartsWith(bytes);

    private static bool At(ReadOnlySpan<byte> file, int position, ReadOnlySpan<byte> bytes) => file.Length > position && file[position..].StartsWith(bytes);

    private static ReadOnlySpan<byte> SkipBlank(ReadOnlySpan<byte> file)
    {
        var afterMark = file.StartsWith("\uFEFF"u8) ? file[3..] : file;
        return afterMark.TrimStart(" \t\r\n"u8);
    }

    private static bool StartsWithText(ReadOnlySpan<byte> text, ReadOnlySpan<byte> lowerCase)
    {
        if (text.Length < lowerCase.Length)
        {
            return false;
        }

        for (var i = 0; i < lowerCase.Length; i++)
        {
            if (char.ToLowerInvariant((char)text[i]) != lowerCase[i])
            {
                return false;
            }
        }

        return true;
    }

    private static bool IsText(ReadOnlySpan<byte> file)
    {
        foreach (var value in file[..Math.Min(file.Length, 512)])
        {
            if (value is not ((>= 0x20 and < 0x7F) or (byte)'\t' or (byte)'\r' or (byte)'\n'))
            {
                return false;
            }
        }

        return true;
    }
}
