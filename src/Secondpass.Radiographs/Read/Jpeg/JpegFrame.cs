using System.Buffers.Binary;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>One colour component of a JPEG picture.</summary>
/// <param name="Identifier">Its number, by which scans name it.</param>
/// <param name="Horizontal">Horizontal sampling factor, 1 to 4.</param>
/// <param name="Vertical">Vertical sampling factor, 1 to 4.</param>
/// <param name="QuantizationTable">Number of its quantization table, 0 to 3.</param>
internal readonly record struct JpegComponent(byte Identifier, int Horizontal, int Vertical, int QuantizationTable);

/// <summary>How a JPEG picture is coded (ITU-T T.81, 4.2 to 4.5).</summary>
internal enum JpegProcess
{
    /// <summary>Baseline and extended: blocks of cosine coefficients, one pass.</summary>
    Sequential,

    /// <summary>Blocks of cosine coefficients, refined scan by scan.</summary>
    Progressive,

    /// <summary>Each sample as its difference from what its neighbours foretell (Annex H).</summary>
    Lossless,
}

/// <summary>The frame header of a JPEG file (ITU-T T.81, B.2.2).</summary>
/// <param name="Process">How it is coded.</param>
/// <param name="Precision">Bits of one sample: 8 or 12, and 2 to 16 where it is coded without loss.</param>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="Components">One for grey, three for colour.</param>
internal sealed record JpegFrame(JpegProcess Process, int Precision, int Width, int Height, IReadOnlyList<JpegComponent> Components)
{
    /// <summary>The greatest horizontal sampling factor.</summary>
    public int GreatestHorizontal { get; } = Components.Max(component => component.Horizontal);

    /// <summary>The greatest vertical sampling factor.</summary>
    public int GreatestVertical { get; } = Components.Max(component => component.Vertical);

    /// <summary>Columns of minimum coded units.</summary>
    public int UnitColumns => Ceiling(Width, 8 * GreatestHorizontal);

    /// <summary>Rows of minimum coded units.</summary>
    public int UnitRows => Ceiling(Height, 8 * GreatestVertical);

    /// <summary>Columns of 8 × 8 blocks that a component has where it is coded alone.</summary>
    public int BlockColumns(JpegComponent component) => Ceiling(Ceiling(Width * component.Horizontal, GreatestHorizontal), 8);

    /// <summary>Rows of 8 × 8 blocks that a component has where it is coded alone.</summary>
    public int BlockRows(JpegComponent component) => Ceiling(Ceiling(Height * component.Vertical, GreatestVertical), 8);

    /// <summary>Reads the frame header and refuses the kinds of JPEG that are not read.</summary>
    /// <param name="marker">The frame's mark, 0xC0 to 0xCF or 0xF7.</param>
    /// <param name="segment">Its content without the length.</param>
    public static Answer<JpegFrame> Parse(int marker, ReadOnlySpan<byte> segment)
    {
        if (UnreadKind(marker) is { } kind)
        {
            return FilmRefusals.Unsupported(JpegReader.Name, kind);
        }

        if (segment.Length < 6 || segment.Length < 6 + (3 * segment[5]))
        {
            return FilmRefusals.Damaged(JpegReader.Name, "its frame header is too short");
        }

        int precision = segment[0];
        var height = BinaryPrimitives.ReadUInt16BigEndian(segment[1..]);
        var width = BinaryPrimitives.ReadUInt16BigEndian(segment[3..]);
        int count = segment[5];
        if (marker == 0xC3 ? precision is < 2 or > 16 : precision != 8 && (precision != 12 || marker == 0xC0))
        {
            return FilmRefusals.Unsupported(JpegReader.Name, $"{precision} bits per value");
        }

        if (count is not (1 or 3))
        {
            return FilmRefusals.Unsupported(JpegReader.Name, count == 4 ? "printing colours (CMYK)" : $"{count} colour channels");
        }

        if (height == 0 && width > 0)
        {
            return FilmRefusals.Unsupported(JpegReader.Name, "a height that is stated only after the picture (DNL)");
        }

        if (FilmLimits.Check(JpegReader.Name, width, height, sizeof(ushort) * count) is { } refusal)
        {
            return refusal;
        }

        var components = new JpegComponent[count];
        for (var i = 0; i < count; i++)
        {
            var part = segment.Slice(6 + (3 * i), 3);
            var (identifier, horizontal, vertical) = (part[0], part[1] >> 4, part[1] & 15);
            if (horizontal is < 1 or > 4 || vertical is < 1 or > 4 || part[2] > 3 || components.Take(i).Any(other => other.Identifier == identifier))
            {
                return FilmRefusals.Damaged(JpegReader.Name, "its frame header names colour channels that can't be");
            }

            // T.81, A.2.2: a component on its own is coded block by block, whatever its sampling factors say.
            components[i] = count == 1
                ? new JpegComponent(identifier, 1, 1, part[2])
                : new JpegComponent(identifier, horizontal, vertical, part[2]);
        }

        if (components.Sum(component => component.Horizontal * component.Vertical) > 10)
        {
            return FilmRefusals.Damaged(JpegReader.Name, "its coded units hold more than ten blocks");
        }

        return marker == 0xC3 && components.Any(component => component.Horizontal != 1 || component.Vertical != 1)
            ? FilmRefusals.Unsupported(JpegReader.Name, "lossless JPEG with colour channels of different size")
            : new JpegFrame(ProcessOf(marker), precision, width, height, components);
    }

    private static int Ceiling(int value, int divisor) => (value + divisor - 1) / divisor;

    private static JpegProcess ProcessOf(int marker) => marker switch
    {
        0xC2 => JpegProcess.Progressive,
        0xC3 => JpegProcess.Lossless,
        _ => JpegProcess.Sequential,
    };

    private static string? UnreadKind(int marker) => marker switch
    {
        0xC0 or 0xC1 or 0xC2 or 0xC3 => null,
        0xC5 or 0xC6 or 0xC7 => "hierarchical JPEG",
        0xC9 or 0xCA => "JPEG with arithmetic coding",
        0xCB => "lossless JPEG with arithmetic coding",
        0xCD or 0xCE or 0xCF => "hierarchical JPEG with arithmetic coding",
        0xF7 => "JPEG-LS",
        _ => $"a kind of JPEG that is not known (mark FF{marker:X2})",
    };
}
