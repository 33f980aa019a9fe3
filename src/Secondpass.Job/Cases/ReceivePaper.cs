using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>A file as a page sent it.</summary>
/// <param name="Name">The name it came with.</param>
/// <param name="Bytes">Its bytes.</param>
public sealed record SentFile(string Name, ReadOnlyMemory<byte> Bytes);

/// <summary>Takes in papers and photographs: known by their bytes, kept untouched.</summary>
/// <param name="store">Where the bytes go.</param>
public sealed class ReceivePaper(ClinicStore store)
{
    /// <summary>Largest file of one paper or photograph: 32 MB.</summary>
    public const int LargestBytes = 32 << 20;

    private const string Pdf = "application/pdf";

    private static readonly (string MediaType, byte[] Begins)[] Known =
    [
        (Pdf, "%PDF-"u8.ToArray()),
        ("image/png", [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A]),
        ("image/jpeg", [0xFF, 0xD8, 0xFF]),
    ];

    /// <summary>Takes in a letter or another paper.</summary>
    /// <returns>The file, stored; or a refusal: neither PDF nor picture, too large, disk full.</returns>
    public Answer<AttachedFile> Receive(SentFile file) => Keep(file, Known, "a PDF, a PNG or a JPEG");

    /// <summary>Takes in a photograph.</summary>
    /// <returns>The file, stored; or a refusal: no picture, too large, disk full.</returns>
    public Answer<AttachedFile> ReceivePhotograph(SentFile file) => Keep(file, Known.Where(known => known.MediaType != Pdf), "a PNG or a JPEG");

    private Answer<AttachedFile> Keep(SentFile file, IEnumerable<(string MediaType, byte[] Begins)> known, string expected)
    {
        ArgumentNullException.ThrowIfNull(file);
        if (file.Bytes.Length > LargestBytes)
        {
            return new Refusal(
                "file_too_large",
                string.Create(CultureInfo.InvariantCulture, $"“{file.Name}” has {file.Bytes.Length / 1e6:0.0} MB, and {LargestBytes >> 20} MB is the most that is taken in."),
                "Save it smaller, or split it.");
        }

        if (known.FirstOrDefault(one => file.Bytes.Span.StartsWith(one.Begins)) is not { MediaType: { } mediaType })
        {
            return new Refusal("unknown_file", $"“{file.Name}” is not {expected}, whatever its name says.", $"Save it as {expected} and choose it again.");
        }

        return store.Cases.KeepFile(file.Bytes.Span).TryGet(out var sha256, out var refusal)
            ? new AttachedFile(sha256, Path.GetFileName(file.Name), mediaType)
            : refusal;
    }
}
