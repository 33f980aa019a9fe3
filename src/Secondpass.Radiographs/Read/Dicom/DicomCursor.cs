namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The beginning of one data element.</summary>
/// <param name="Tag">Group and element number, such as 0x00280010.</param>
/// <param name="Representation">The two letters of its value representation; empty where it names none.</param>
/// <param name="Length">Bytes of its value, or <see cref="DicomCursor.Undefined"/>.</param>
internal readonly record struct DicomElement(uint Tag, string Representation, uint Length);

/// <summary>Walks over data elements and skips sequences however deep (DICOM PS3.5, 7.1 and 7.5).</summary>
/// <param name="file">The whole file.</param>
/// <param name="position">Where to begin.</param>
internal ref struct DicomCursor(ReadOnlySpan<byte> file, int position)
{
    /// <summary>The length of a sequence or item that ends with a mark.</summary>
    public const uint Undefined = 0xFFFFFFFF;

    /// <summary>Marks of the beginning and end of items and sequences.</summary>
    public const uint Item = 0xFFFEE000, ItemEnd = 0xFFFEE00D, SequenceEnd = 0xFFFEE0DD;

    private const int GreatestDepth = 64;
    private const string Unknown = "UN";

    private readonly ReadOnlySpan<byte> file = file;

    /// <summary>The next byte.</summary>
    public int Position { get; private set; } = position;

    /// <summary>Whether something was met that the standard does not allow but that could be read.</summary>
    public bool MetIrregular { get; private set; }

    /// <summary>Bytes left.</summary>
    public readonly int Left => file.Length - Position;

    /// <summary>Whether two characters are a value representation of the standard (PS3.5, 6.2).</summary>
    public static bool IsKnownRepresentation(byte first, byte second) => IsShort(first, second) || IsLong(first, second);

    /// <summary>The group number of the next element, or −1 at the end; little endian, as the first group always is.</summary>
    public readonly int NextGroup() => Left >= 8 ? DicomEncoding.Explicit.Short(file[Position..]) : -1;

    /// <summary>Whether the next element names its value representation.</summary>
    public readonly bool NextLooksExplicit() => Left >= 8 && IsKnownRepresentation(file[Position + 4], file[Position + 5]);

    /// <summary>How what stands inside an element is written: like the elements around it, but implicit inside one of unknown representation (PS3.5, 6.2.2).</summary>
    public static DicomEncoding Inside(DicomElement element, DicomEncoding encoding) =>
        element.Representation == Unknown && encoding.IsExplicit ? DicomEncoding.Implicit : encoding;

    /// <summary>Reads the beginning of an element and stands before its value.</summary>
    /// <param name="encoding">How elements are written.</param>
    /// <returns>The element, or null when the bytes end.</returns>
    public DicomElement? Next(DicomEncoding encoding)
    {
        if (Left < 8)
        {
            return null;
        }

        var head = file[Position..];
        var tag = ((uint)encoding.Short(head) << 16) | encoding.Short(head[2..]);
        var length = encoding.Long(head[4..]);
        var (first, second) = (head[4], head[5]);
        Position += 8;
        if (!encoding.IsExplicit || tag >> 16 == 0xFFFE)
        {
            return Checked(new DicomElement(tag, string.Empty, length));
        }

        if (!char.IsAsciiLetterUpper((char)first) || !char.IsAsciiLetterUpper((char)second))
        {
            // Some writers leave single elements implicit.
            MetIrregular = true;
            return Checked(new DicomElement(tag, string.Empty, length));
        }

        MetIrregular |= !IsKnownRepresentation(first, second);
        var representation = new string([(char)first, (char)second]);

        // Representations added later have long lengths (PS3.5, 6.2.2 and 7.1.2).
        var shortLength = encoding.Short(head[6..]);
        if (IsShort(first, second) || (!IsLong(first, second) && shortLength != 0))
        {
            return Checked(new DicomElement(tag, representation, shortLength));
        }

        if (Left < 4)
        {
            return null;
        }

        length = encoding.Long(file[Position..]);
        Position += 4;
        return Checked(new DicomElement(tag, representation, length));
    }

    /// <summary>Passes the value of an element.</summary>
    /// <param name="element">The element whose value comes next.</param>
    /// <param name="encoding">How elements are written.</param>
    /// <returns>Whether the whole value was there.</returns>
    public bool Skip(DicomElement element, DicomEncoding encoding) => Skip(element, encoding, 0);

    /// <summary>Passes the content of an item, and its end mark where it ends with one.</summary>
    /// <param name="item">The item whose content comes next.</param>
    /// <param name="encoding">How elements are written.</param>
    /// <returns>Whether the whole item was there.</returns>
    public bool SkipItem(DicomElement item, DicomEncoding encoding) =>
        item.Length == Undefined ? SkipItem(encoding, 0) : Skip(item, encoding, 0);

    private bool Skip(DicomElement element, DicomEncoding encoding, int depth)
    {
        if (element.Length == Undefined)
        {
            return depth < GreatestDepth && SkipItems(Inside(element, encoding), depth);
        }

        if (element.Length > Left)
        {
            return false;
        }

        Position += (int)element.Length;
        return true;
    }

    private bool SkipItems(DicomEncoding encoding, int depth)
    {
        while (Next(encoding) is { } part)
        {
            if (part.Tag == SequenceEnd)
            {
                return true;
            }

            if (part.Tag != Item || !(part.Length == Undefined ? SkipItem(encoding, depth) : Skip(part, encoding, depth)))
            {
                return false;
            }
        }

        return false;
    }

    private bool SkipItem(DicomEncoding encoding, int depth)
    {
        while (Next(encoding) is { } element)
        {
            if (element.Tag == ItemEnd)
            {
                return true;
            }

            if (!Skip(element, encoding, depth + 1))
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
