using System.Buffers.Binary;

namespace Secondpass.Radiographs.Read.Tiff;

/// <summary>The first directory of a TIFF structure: numbered fields, each checked to lie inside the bytes (TIFF 6.0, section 2). Exif blocks have the same structure.</summary>
internal sealed class TiffDirectory
{
    private const int EntryLength = 12;
    private const int GreatestPictureCount = 1000;

    private readonly ReadOnlyMemory<byte> bytes;
    private readonly bool bigEndian;
    private readonly Dictionary<ushort, Field> fields = [];

    private TiffDirectory(ReadOnlyMemory<byte> bytes, bool bigEndian)
    {
        this.bytes = bytes;
        this.bigEndian = bigEndian;
    }

    /// <summary>Whether the first byte of a number is the highest one.</summary>
    public bool IsBigEndian => bigEndian;

    /// <summary>Whether a field lies outside the bytes, or stands twice.</summary>
    public bool IsBroken { get; private set; }

    /// <summary>How many directories follow each other, this one included; at most 1000 are counted.</summary>
    public int PictureCount { get; private set; }

    /// <summary>Reads the first directory.</summary>
    /// <param name="bytes">The structure from its byte order mark on.</param>
    /// <returns>The directory, or null when there is none.</returns>
    public static TiffDirectory? Parse(ReadOnlyMemory<byte> bytes)
    {
        var span = bytes.Span;
        if (span.Length < 8 || !(span.StartsWith("II*\0"u8) || span.StartsWith("MM\0*"u8)))
        {
            return null;
        }

        var directory = new TiffDirectory(bytes, span[0] == 'M');
        long at = directory.LongAt(4);
        if (directory.EntryCount(at) is not { } count)
        {
            return null;
        }

        for (var i = 0; i < count; i++)
        {
            directory.Take((int)at + 2 + (EntryLength * i));
        }

        directory.CountPictures(at);
        return directory;
    }

    /// <summary>Whether the field is there.</summary>
    public bool Has(ushort tag) => fields.ContainsKey(tag);

    /// <summary>How many values a field has; 0 when it is not there.</summary>
    public int Count(ushort tag) => fields.TryGetValue(tag, out var field) ? field.Count : 0;

    /// <summary>A whole number of a field, or null when it is not there or no whole number.</summary>
    /// <param name="tag">The field's number.</param>
    /// <param name="index">Which of its values.</param>
    public long? Number(ushort tag, int index = 0)
    {
        if (!fields.TryGetValue(tag, out var field) || index >= field.Count)
        {
            return null;
        }

        return field.Type switch
        {
            1 => bytes.Span[field.At + index],
            3 => ShortAt(field.At + (2 * index)),
            4 => LongAt(field.At + (4 * index)),
            _ => null,
        };
    }

    /// <summary>A fraction of a field, or null when it is not there or no fraction; infinite or no number where the file divides by zero.</summary>
    public double? Fraction(ushort tag) =>
        fields.TryGetValue(tag, out var field) && field.Type == 5 && field.Count > 0
            ? (double)LongAt(field.At) / LongAt(field.At + 4)
            : null;

    private static int TypeLength(int type) => type switch
    {
        1 or 2 or 6 or 7 => 1,
        3 or 8 => 2,
        4 or 9 or 11 or 13 => 4,
        5 or 10 or 12 => 8,
        _ => 0,
    };

    private void Take(int at)
    {
        var (tag, type, count) = (ShortAt(at), ShortAt(at + 2), LongAt(at + 4));
        var length = TypeLength(type) * (long)count;
        if (length == 0)
        {
            return;
        }

        var valueAt = length <= 4 ? at + 8 : (long)LongAt(at + 8);
        IsBroken |= valueAt + length > bytes.Length || !fields.TryAdd(tag, new Field(type, (int)Math.Min(count, int.MaxValue), (int)Math.Min(valueAt, int.MaxValue)));
    }

    private void CountPictures(long at)
    {
        var seen = new HashSet<long>();
        while (at != 0 && seen.Count < GreatestPictureCount && EntryCount(at) is { } count && seen.Add(at))
        {
            var next = at + 2 + (EntryLength * count);
            at = next + 4 <= bytes.Length ? LongAt((int)next) : 0;
        }

        PictureCount = seen.Count;
    }

    private int? EntryCount(long at) =>
        at >= 8 && at + 2 <= bytes.Length && at + 2 + (EntryLength * (long)ShortAt((int)at)) <= bytes.Length ? ShortAt((int)at) : null;

    private ushort ShortAt(int at) => bigEndian
        ? BinaryPrimitives.ReadUInt16BigEndian(bytes.Span[at..])
        : BinaryPrimitives.ReadUInt16LittleEndian(bytes.Span[at..]);

    private uint LongAt(int at) => bigEndian
        ? BinaryPrimitives.ReadUInt32BigEndian(bytes.Span[at..])
        : BinaryPrimitives.ReadUInt32LittleEndian(bytes.Span[at..]);

    private readonly record struct Field(int Type, int Count, int At);
}
