using System.Globalization;
using System.Security.Cryptography;
using Secondpass.Domain;
using Secondpass.Records.Events;

namespace Secondpass.Records.Films;

/// <summary>Files kept untouched under the SHA-256 of their bytes: <c>ab/abcdef…</c>.</summary>
/// <remarks>
/// A file is written beside its place, flushed to the disk and then renamed, so that a name never stands for half a
/// file. Every reading is checked against the name.
/// </remarks>
public sealed class FileArchive
{
    private readonly string folder;
    private readonly TimeProvider time;
    private readonly Func<string, Stream> create;

    /// <summary>Keeps files in a folder, which must exist where something is to be kept.</summary>
    public FileArchive(string folder, TimeProvider time)
        : this(folder, time, path => new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16))
    {
    }

    internal FileArchive(string folder, TimeProvider time, Func<string, Stream> create)
    {
        this.folder = folder;
        this.time = time;
        this.create = create;
    }

    /// <summary>Keeps bytes. Bytes already kept are kept once, and count as new again for <see cref="OlderThan"/>.</summary>
    /// <returns>Their SHA-256 as 64 lower-case hexadecimal digits; or a refusal: disk full, not writable. Then nothing is left behind.</returns>
    public Answer<string> Keep(ReadOnlySpan<byte> bytes)
    {
        var sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes));
        var place = PlaceOf(sha256);
        var temporary = Path.Combine(folder, Identity.New() + ".part");
        try
        {
            if (!Holds(sha256))
            {
                Directory.CreateDirectory(Path.GetDirectoryName(place)!);
                using (var stream = create(temporary))
                {
                    stream.Write(bytes);
                    if (stream is FileStream file)
                    {
                        file.Flush(flushToDisk: true);
                    }
                }

                Failpoints.At(Failpoints.FileBeforeItsName);
                File.Move(temporary, place, overwrite: true);
            }

            File.SetLastWriteTimeUtc(place, time.GetUtcNow().UtcDateTime);
            Failpoints.At(Failpoints.AfterFileBeforeEvent);
            return sha256;
        }
        catch (Exception failure) when (StoreRefusals.From(failure, folder) is not null)
        {
            return StoreRefusals.From(failure, folder)!;
        }
        finally
        {
            File.Delete(temporary);
        }
    }

    /// <summary>Reads bytes back and checks them.</summary>
    /// <param name="sha256">Their SHA-256.</param>
    /// <returns>The bytes; or a refusal: not here, damaged.</returns>
    public Answer<byte[]> Read(string sha256)
    {
        if (!IsHash(sha256) || !File.Exists(PlaceOf(sha256)))
        {
            return new Refusal(
                "film_not_here",
                $"The film “{Short(sha256)}” is not in the data folder any more.",
                "Drop its file again.");
        }

        var bytes = File.ReadAllBytes(PlaceOf(sha256));
        if (Convert.ToHexStringLower(SHA256.HashData(bytes)) == sha256)
        {
            return bytes;
        }

        return new Refusal(
            "film_damaged",
            $"The stored file “{PlaceOf(sha256)}” is not what was stored: its content changed.",
            "Drop the film's file again, or put a copy of the data folder back from your backup.");
    }

    /// <summary>Removes bytes; nothing happens when they are not there.</summary>
    public void Remove(string sha256)
    {
        if (IsHash(sha256) && File.Exists(PlaceOf(sha256)))
        {
            File.Delete(PlaceOf(sha256));
        }
    }

    /// <summary>The SHA-256 of everything that was last kept longer ago than the given time.</summary>
    public IReadOnlyList<string> OlderThan(TimeSpan age)
    {
        var limit = time.GetUtcNow().UtcDateTime - age;
        return [.. All().Where(sha256 => File.GetLastWriteTimeUtc(PlaceOf(sha256)) < limit)];
    }

    /// <summary>The SHA-256 of everything that is kept, in its order.</summary>
    public IReadOnlyList<string> All() => !Directory.Exists(folder) ? [] :
    [
        .. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
            .Select(path => Path.GetFileName(path))
            .Where(IsHash)
            .Order(StringComparer.Ordinal),
    ];

    /// <summary>Removes what an interrupted writing left behind.</summary>
    public void RemoveUnfinished()
    {
        foreach (var path in Directory.EnumerateFiles(folder, "*.part"))
        {
            File.Delete(path);
        }
    }

    /// <summary>Whether a text has the form of a SHA-256: 64 lower-case hexadecimal digits.</summary>
    public static bool IsHash(string? text) => text is { Length: 64 } && text.All(char.IsAsciiHexDigitLower);

    private bool Holds(string sha256) => File.Exists(PlaceOf(sha256)) && Read(sha256).IsGiven;

    private string PlaceOf(string sha256) => Path.Combine(folder, sha256[..2], sha256);

    private static string Short(string text) => text.Length <= 12 ? text : string.Create(CultureInfo.InvariantCulture, $"{text.AsSpan(0, 12)}…");
}
