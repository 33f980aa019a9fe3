using System.Buffers.Binary;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The beginning of one data element.</summary>
/// <param name="Tag">Group and element number, such as 0x00280010.</param>
/// <param name="IsUnknown">Whether its value representation is UN, inside which everything is implicit.</param>
/// <param name="Length">Bytes of its value, or <see cref="DicomCursor.Undefined"/>.</param>
internal readonly record struct DicomElement(uint Tag, bool IsUnknown, uint Length);

/// <summary>Walks over data elements, little endian, and skips sequences however deep (DICOM PS3.5, 7.1 and 7.5).</summary>
/// <param name="file">The whole file.</param>
/// <param name="position">Where to begin.</param>
internal ref struct DicomCursor(ReadOnlySpan<byte> file, int position)
{
    /// <summary>The length of a sequence or item that ends with a mark.</summary>
    public const uint Undefined = 0xFFFFFFFF;

    private const uint Item = 0xFFFEE000, ItemEnd = 0xFFFEE00D, SequenceEnd = 0xFFFEE0DD;
    private const int GreatestDepth = 64;

    private readonly ReadOnlySpan<byte> file = file;

    /// <summary>The next byte.</summary>
    public int Position { get; private set; } = position;

    /// <summary>Whether something was met that the standard does not allow but that could be read.</summary>
    public bool MetIrregular { get; private set; }

    /// <summary>Bytes left.</summary>
    public readonly int Left => file.Length - Position;

    /// <summary>Whether two characters are a value representation of the standard (PS3.5, 6.2).</summary>
    public static bool IsKnownRepresentation(byte first, byte second) => IsShort(first, second) || IsLong(first, second);

    /// <summary>The group number of the next element, or −1 at the end.</summary>
    public readonly int NextGroup() => Left >= 8 ? BinaryPrimitives.ReadUInt16LittleEndian(file[Position..]) : -1;

    /// <summary>Whether the next element names its value representation.</summary>
    public readonly bool NextLooksExplicit() => Left >= 8 && IsKnownRepresentation(file[Position + 4], file[Position + 5]);

    /// <summary>Reads the beginning of an element and stands before its value.</summary>
    /// <param name="isExplicit">Whether elements name their value representation.</param>
    /// <returns>The element, or null when the bytes end.</returns>
    public DicomElement? Next(bool isExplicit)
    {
        if (Left < 8)
        {
            return null;
        }

        var head = file[Position..];
        var tag = ((uint)BinaryPrimitives.ReadUInt16LittleEndian(head) << 16) | BinaryPrimitives.ReadUInt16LittleEndian(head[2..]);
        var length = BinaryPrimitives.ReadUInt32LittleEndian(head[4..]);
        var (first, second) = (head[4], head[5]);
        Position += 8;
        if (!isExplicit || tag >> 16 == 0xFFFE)
        {
            return Checked(new DicomElement(tag, false, length));
        }

        if (!char.IsAsciiLetterUpper((char)first) || !char.IsAsciiLetterUpper((char)second))
        {
            // Some writers leave single elements implicit.
            MetIrregular = true;
            return Checked(new DicomElement(tag, false, length));
        }

        MetIrregular |= !IsKnownRepresentation(first, second);

        // Representations added later have long lengths (PS3.5, 6.2.2 and 7.1.2).
        if (IsShort(first, second) || (!IsLong(first, second) && length >> 16 != 0))
        {
            return Checked(new DicomElement(tag, false, length >> 16));
        }

        if (Left < 4)
        {
            return null;
        }

        length = BinaryPrimitives.ReadUInt32LittleEndian(file[Position..]);
        Position += 4;
        return Checked(new DicomElement(tag, first == 'U' && second == 'N', length));
    }

    /// <summary>Passes the value of an element.</summary>
    /// <param name="element">The element whose value comes next.</param>
    /// <param name="isExplicit">Whether elements name their value representation.</param>
    /// <returns>Whether the whole value was there.</returns>
    public bool Skip(DicomElement element, bool isExplicit) => Skip(element, isExplicit, 0);

    private bool Skip(DicomElement element, bool isExplicit, int depth)
    {
        if (element.Length == Undefined)
        {
            return depth < GreatestDepth && SkipItems(isExplicit && !element.IsUnknown, depth);
        }

        if (element.Length > Left)
        {
            return false;
        }

        Position += (int)element.Length;
        return true;
    }

    private bool SkipItems(bool isExplicit, int depth)
    {
        while (Next(isExplicit) is { } part)
        {
            if (part.Tag == SequenceEnd)
            {
                return true;
            }

            if (part.Tag != Item || !(part.Length == Undefined ? SkipItem(isExplicit, depth) : Skip(part, isExplicit, depth)))
            {
                return false;
            }
        }

        return false;
    }

    private bool SkipItem(bool isExplicit, int depth)
    {
        while (Next(isExplicit) is { } element)
        {
            if (element.Tag == ItemEnd)
            {
                return true;
            }

            if (!Skip(element, isExplicit, depth + 1))
            {
                return false;
            }
        }

        return false;
    }

    private DicomElement Checked(DicomElement element)
    {
        MetIrregular |= element.Length != Undefined && element.Length % 2 != 0;
        return element;
    }

    private static bool IsShort(byte first, byte second) => (first, second) switch
    {
        ((byte)'A', (byte)'E' or (byte)'S' or (byte)'T') => true,
        ((byte)'C', (byte)'S') => true,
        ((byte)'D', (byte)'A' or (byte)'S' or (byte)'T') => true,
        ((byte)'F', (byte)'D' or (byte)'L') => true,
        ((byte)'I', (byte)'S') => true,
        ((byte)'L', (byte)'O' or (byte)'T') => true,
        ((byte)'P', (byte)'N') => true,
        ((byte)'S', (byte)'H' or (byte)'L' or (byte)'S' or (byte)'T') => true,
        ((byte)'T', (byte)'M') => true,
        ((byte)'U', (byte)'I' or (byte)'L' or (byte)'S') => true,
        _ => false,
    };

    private static bool IsLong(byte first, byte second) => (first, second) switch
    {
        ((byte)'O', (byte)'B' or (byte)'D' or (byte)'F' or (byte)'L' or (byte)'V' or (byte)'W') => true,
        ((byte)'S', (byte)'Q' or (byte)'V') => true,
        ((byte)'U', (byte)'C' or (byte)'N' or (byte)'R' or (byte)'T' or (byte)'V') => true,
        _ => false,
    };
}
