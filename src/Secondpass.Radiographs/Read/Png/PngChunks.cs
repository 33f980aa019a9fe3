using System.Buffers.Binary;
using System.Text;
using Secondpass.Domain;
using Secondpass.Radiographs.Straighten;

namespace Secondpass.Radiographs.Read.Png;

/// <summary>The blocks of a PNG file that matter here, each checked against its checksum.</summary>
internal sealed class PngChunks
{
    private static readonly uint[] ChecksumTable = MakeChecksumTable();

    private PngChunks(PngHeader header) => Header = header;

    /// <summary>The IHDR block.</summary>
    public PngHeader Header { get; }

    /// <summary>The PLTE block: three bytes an entry; empty when there is none.</summary>
    public ReadOnlyMemory<byte> Palette { get; private set; }

    /// <summary>The pHYs block; empty when there is none.</summary>
    public ReadOnlyMemory<byte> PhysicalSize { get; private set; }

    /// <summary>The tEXt block by which this product marks a straightened photograph; empty when there is none.</summary>
    public ReadOnlyMemory<byte> Text { get; private set; }

    /// <summary>Whether there is a tRNS block.</summary>
    public bool HasTransparency { get; private set; }

    /// <summary>Whether there is an acTL block.</summary>
    public bool IsAnimated { get; private set; }

    /// <summary>The contents of the IDAT blocks, in order.</summary>
    public List<ReadOnlyMemory<byte>> Data { get; } = [];

    /// <summary>Bytes of all IDAT blocks.</summary>
    public long DataLength { get; private set; }

    /// <summary>Reads all blocks up to IEND.</summary>
    /// <param name="file">The whole file, signature included.</param>
    public static Answer<PngChunks> Parse(ReadOnlyMemory<byte> file)
    {
        PngChunks? chunks = null;
        var position = PngDetector.Signature.Length;
        while (true)
        {
            var rest = file[position..];
            if (rest.Length < 12)
            {
                return FilmRefusals.Damaged(PngReader.Name, $"it ends after {file.Length} bytes without its end mark");
            }

            var length = BinaryPrimitives.ReadUInt32BigEndian(rest.Span);
            var type = Encoding.Latin1.GetString(rest.Span.Slice(4, 4));
            if (!type.All(char.IsAsciiLetter))
            {
                return FilmRefusals.Damaged(PngReader.Name, $"at byte {position} there is no block where one should begin");
            }

            if (length > rest.Length - 12)
            {
                return FilmRefusals.Damaged(PngReader.Name, $"its block {type} states {length} bytes, but only {rest.Length - 12} follow");
            }

            var content = rest.Slice(8, (int)length);
            if (Checksum(rest.Span.Slice(4, 4 + content.Length)) != BinaryPrimitives.ReadUInt32BigEndian(rest.Span[(8 + content.Length)..]))
            {
                return FilmRefusals.Damaged(PngReader.Name, $"the checksum of its block {type} at byte {position} is wrong");
            }

            if (chunks is null)
            {
                if (type != "IHDR" || length != PngHeader.Length)
                {
                    return FilmRefusals.Damaged(PngReader.Name, "it does not begin with its header");
                }

                if (!PngHeader.Parse(content.Span).TryGet(out var header, out var refused))
                {
                    return refused;
                }

                chunks = new PngChunks(header);
            }
            else if (type == "IEND")
            {
                return chunks;
            }
            else if (chunks.Take(type, content) is { } refusal)
            {
                return refusal;
            }

            position += 12 + content.Length;
        }
    }

    /// <summary>The checksum over the type and content of a block.</summary>
    public static uint Checksum(ReadOnlySpan<byte> bytes)
    {
        var sum = uint.MaxValue;
        foreach (var value in bytes)
        {
            sum = ChecksumTable[(byte)sum ^ value] ^ (sum >> 8);
        }

        return ~sum;
    }

    // ISO/IEC 15948, Annex D: the CRC of polynomial 0xEDB88320, reflected.
    private static uint[] MakeChecksumTable()
    {
        var table = new uint[256];
        for (var i = 0u; i < table.Length; i++)
        {
            var value = i;
            for (var bit = 0; bit < 8; bit++)
            {
                value = (value & 1) != 0 ? 0xEDB88320 ^ (value >> 1) : value >> 1;
            }

            table[i] = value;
        }

        return table;
    }

    private Refusal? Take(string type, ReadOnlyMemory<byte> content)
    {
        switch (type)
        {
            case "IDAT":
                Data.Add(content);
                DataLength += content.Length;
                return null;
            case "PLTE":
                if (content.Length is 0 or > 768 || content.Length % 3 != 0 || !Palette.IsEmpty)
                {
                    return FilmRefusals.Damaged(PngReader.Name, $"its palette of {content.Length} bytes is not one");
                }

                Palette = content;
                return null;
            case "pHYs":
                PhysicalSize = content;
                return null;
            case "tEXt":
                if (StraightenedMark.Recognises(content.Span))
                {
                    Text = content;
                }

                return null;
            case "tRNS":
                HasTransparency = true;
                return null;
            case "acTL":
                IsAnimated = true;
                return null;
            default:
                return char.IsAsciiLetterUpper(type[0])
                    ? FilmRefusals.Damaged(PngReader.Name, $"its block {type} must be understood but is not known or stands in the wrong place")
                    : null;
        }
    }
}
