using System.Globalization;
using System.IO.Compression;
using Secondpass.Domain;
using Secondpass.Domain.Evidence;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>Unpacks what stands deflated behind the first group of a file (DICOM PS3.5, A.5; RFC 1951, without a header and a checksum).</summary>
internal static class DicomInflater
{
    private const int PieceLength = 1 << 16;

    // Room for everything in a file that is not its picture.
    private const int HeaderBytes = 4_000_000;

    /// <summary>Unpacks.</summary>
    /// <param name="packed">The deflated bytes; a padding byte behind them is ignored.</param>
    public static Answer<ReadOnlyMemory<byte>> Unpack(ReadOnlyMemory<byte> packed)
    {
        var greatest = FilmReading.GreatestUnpackedBytes.Value + HeaderBytes;
        using var stream = new MemoryStream(packed.ToArray(), writable: false);
        using var deflate = new DeflateStream(stream, CompressionMode.Decompress);
        using var unpacked = new MemoryStream();
        var piece = new byte[PieceLength];
        try
        {
            while (deflate.Read(piece) is var count and > 0)
            {
                unpacked.Write(piece.AsSpan(0, count));
                if (unpacked.Length > greatest)
                {
                    return FilmRefusals.Unsupported(DicomReader.Name, string.Create(CultureInfo.InvariantCulture, $"more than {greatest / 1_000_000} million bytes once unpacked"));
                }
            }
        }
        catch (InvalidDataException)
        {
            return FilmRefusals.Damaged(DicomReader.Name, "its deflated part can't be unpacked");
        }

        return (ReadOnlyMemory<byte>)unpacked.GetBuffer().AsMemory(0, (int)unpacked.Length);
    }
}
