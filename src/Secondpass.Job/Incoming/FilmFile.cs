using System.Globalization;
using System.Security.Cryptography;
using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Pictures;
using Secondpass.Radiographs.Identify;
using Secondpass.Radiographs.Read;

namespace Secondpass.Job.Incoming;

/// <summary>A file of the clinic's that may be a film: read, and never moved, changed or deleted.</summary>
internal static class FilmFile
{
    /// <summary>The code of the refusal of a file that can't be read just now.</summary>
    public const string InUse = "file_in_use";

    /// <summary>The code of the refusal of a file that is not there any more.</summary>
    public const string Gone = "file_gone";

    // Twice what a film is shown wide on a page: sharp on a screen of double density too.
    private const int PictureSidePixels = 640;

    /// <summary>Whether a failure only says that a file or folder can't be read just now.</summary>
    public static bool IsOfTheDisk(Exception failure) => failure is IOException or UnauthorizedAccessException or System.Security.SecurityException;

    /// <summary>Reads a file's bytes as nobody is writing them.</summary>
    /// <param name="path">The file.</param>
    /// <returns>The bytes; or a refusal: <see cref="InUse"/> while somebody writes it, <see cref="Gone"/>, <c>file_not_allowed</c>, <c>film_too_large</c>.</returns>
    public static Answer<byte[]> Bytes(string path)
    {
        try
        {
            // Where the system says so, a program that still writes keeps others out.
            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16);
            if (stream.Length > NewFilms.GreatestFileBytes.Value)
            {
                return new Refusal(
                    "film_too_large",
                    string.Create(CultureInfo.InvariantCulture, $"The file has {stream.Length / 1e6:0} MB; {NewFilms.GreatestFileBytes.Value >> 20} MB is the most that is read."),
                    "Export the film alone, as one image; an uncompressed intra-oral film has a few MB.");
            }

            var bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            return bytes;
        }
        catch (UnauthorizedAccessException)
        {
            return new Refusal("file_not_allowed", "This user may not read the file.", "Give this user the right to read the folder and its files.");
        }
        catch (Exception failure) when (failure is FileNotFoundException or DirectoryNotFoundException)
        {
            return new Refusal(Gone, "The file is not there any more.", "See whether its folder or stick was taken away, or whether another program moved it.");
        }
        catch (IOException)
        {
            return new Refusal(InUse, "The file can't be read just now.", "See whether another program still writes it, and whether its folder can be reached.");
        }
    }

    /// <summary>SHA-256 of bytes, 64 lower-case hexadecimal digits.</summary>
    public static string Sha256Of(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>Looks at bytes that may be a film.</summary>
    /// <returns>What is to be seen of it; or the reader's refusal.</returns>
    public static Answer<SeenFilm> Look(byte[] bytes) => FilmReader.Read(bytes).TryGet(out var film, out var refusal)
        ? new SeenFilm(film.Sha256, IdentityReader.Read(bytes), FilmThumbnail.Png(film, PictureSidePixels))
        : refusal;

    /// <summary>The files below a folder, hidden ones aside.</summary>
    /// <exception cref="IOException">The folder can't be reached.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be read.</exception>
    public static IReadOnlyList<FileInfo> Below(string folder)
    {
        // A folder that is gone would otherwise look like one that is empty.
        if (!Directory.Exists(folder))
        {
            throw new DirectoryNotFoundException();
        }

        return
        [
            .. new DirectoryInfo(folder).EnumerateFiles("*", new EnumerationOptions
            {
                RecurseSubdirectories = true,
                MaxRecursionDepth = 8,
                IgnoreInaccessible = true,
                AttributesToSkip = FileAttributes.Hidden | FileAttributes.System | FileAttributes.ReparsePoint,
            }),
        ];
    }
}

/// <summary>What is to be seen of a film without keeping it.</summary>
/// <param name="Sha256">SHA-256 of its file.</param>
/// <param name="Stated">What its file says of whom it shows.</param>
/// <param name="Picture">A small picture of it, as a PNG file.</param>
internal sealed record SeenFilm(string Sha256, StatedIdentity Stated, ReadOnlyMemory<byte> Picture);
