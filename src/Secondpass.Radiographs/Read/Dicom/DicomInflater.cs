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
    /// <returns>The unpacked bytes; or a refusal of what is no sound code, or more than any film that is read.</returns>
    /// <remarks>How much it is isn't stated anywhere, so it is unpacked once to be counted, and then into an array of that length.</remarks>
    public static Answer<ReadOnlyMemory<byte>> Unpack(ReadOnlyMemory<byte> packed)
    {
        var greatest = FilmReading.GreatestUnpackedBytes.Value + HeaderBytes;
        var bytes = packed.ToArray();
        try
        {
            var length = Count(bytes, greatest);
            if (length > greatest)
            {
                return FilmRefusals.Unsupported(DicomReader.Name, string.Create(CultureInfo.InvariantCulture, $"more than {greatest / 1_000_000} million bytes once unpacked"));
            }

            var unpacked = new byte[length];
            using var deflate = Open(bytes);
            deflate.ReadExactly(unpacked);
            return (ReadOnlyMemory<byte>)unpacked;
        }
        catch (InvalidDataException)
        {
            return FilmRefusals.Damaged(DicomReader.Name, "its deflated part can't be unpacked");
        }
    }

    private static DeflateStream Open(byte[] packed) => new(new MemoryStream(packed, writable: false), CompressionMode.Decompress);

    private static long Count(byte[] packed, long greatest)
    {
        using var deflate = Open(packed);
        var piece = new byte[PieceLength];
        var length = 0L;
        while (length <= greatest && deflate.Read(piece) is var count and > 0)
        {
            length += count;
        }

        return length;
    }
}
