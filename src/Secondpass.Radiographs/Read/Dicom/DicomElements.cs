using System.Globalization;
using System.Text;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The elements of a DICOM file that reading a film needs; everything else is passed over.</summary>
internal sealed class DicomElements
{
    // A film shows a few teeth and carries a few tables; more items than this are no film's.
    private const int GreatestItemCount = 100;

    private readonly Dictionary<uint, Value> values = [];
    private readonly DicomEncoding encoding;

    private DicomElements(TransferSyntax syntax)
    {
        Syntax = syntax;
        encoding = syntax.Encoding;
    }

    /// <summary>How the file is encoded.</summary>
    public TransferSyntax Syntax { get; }

    /// <summary>Whether something was met that the standard does not allow but that could be read.</summary>
    public bool IsIrregular { get; private set; }

    /// <summary>Whether the encoding had to be guessed.</summary>
    public bool IsGuessed { get; private set; }

    /// <summary>Whether the pixels come in compressed pieces.</summary>
    public bool HasPixelPieces { get; private set; }

    /// <summary>Whether the file ends before the bytes that its last element states.</summary>
    public bool EndsEarly { get; private set; }

    /// <summary>Reads the elements up to the pixels.</summary>
    /// <param name="file">The whole file.</param>
    public static Answer<DicomElements> Parse(ReadOnlyMemory<byte> file)
    {
        var cursor = new DicomCursor(file.Span, DicomDetector.ElementsAt(file.Span));

        // The first group is always explicit (PS3.10, 7.1).
        var header = new DicomElements(TransferSyntax.Explicit);
        if (header.Walk(file, ref cursor, onlyGroup: 2) is { } damageInFront)
        {
            return damageInFront;
        }

        var identifier = header.Text(DicomTag.TransferSyntax);
        var syntax = identifier is null ? TransferSyntax.Implicit : TransferSyntax.Find(identifier);
        if (syntax is null)
        {
            return FilmRefusals.Unsupported(
                DicomReader.Name,
                TransferSyntax.Describe(identifier!),
                "Export the film again without compression (explicit VR little endian) or with JPEG lossless, or as a grey PNG or TIFF.");
        }

        if (!syntax.IsDeflated)
        {
            return ParseBehind(header, file, cursor, syntax, identifier is null);
        }

        if (!DicomInflater.Unpack(file[cursor.Position..]).TryGet(out var unpacked, out var refusal))
        {
            return refusal;
        }

        return ParseBehind(header, unpacked, new DicomCursor(unpacked.Span, 0), syntax, false);
    }

    /// <summary>The items of a sequence, each with its own elements; none when it is not there or can't be read.</summary>
    public IReadOnlyList<DicomElements> Items(uint tag)
    {
        if (!values.TryGetValue(tag, out var sequence))
        {
            return [];
        }

        var items = new List<DicomElements>();
        var cursor = new DicomCursor(sequence.Bytes.Span, 0);
        while (items.Count < GreatestItemCount && cursor.Next(sequence.Inside) is { Tag: DicomCursor.Item } item)
        {
            var start = cursor.Position;
            if (!cursor.SkipItem(item, sequence.Inside))
            {
                break;
            }

            var elements = new DicomElements(new TransferSyntax(sequence.Inside));
            var content = sequence.Bytes[start..cursor.Position];
            var inside = new DicomCursor(content.Span, 0);
            if (elements.Walk(content, ref inside, onlyGroup: null) is not null)
            {
                break;
            }

            items.Add(elements);
        }

        return items;
    }

    /// <summary>Whether the element is there.</summary>
    public bool Has(uint tag) => values.ContainsKey(tag);

    /// <summary>The bytes of an element; empty when it is not there.</summary>
    public ReadOnlyMemory<byte> Bytes(uint tag) => values.GetValueOrDefault(tag).Bytes;

    /// <summary>The two letters of an element's value representation; empty when it names none or is not there.</summary>
    public string Representation(uint tag) => values.GetValueOrDefault(tag).Representation ?? string.Empty;

    /// <summary>A whole number of 16 bits, or null when it is not there.</summary>
    /// <param name="tag">The element.</param>
    /// <param name="index">Which of its numbers.</param>
    public int? Number(uint tag, int index = 0) =>
        Bytes(tag) is var bytes && bytes.Length >= 2 * (index + 1) ? encoding.Short(bytes.Span[(2 * index)..]) : null;

    /// <summary>A text without its padding, or null when it is not there or empty.</summary>
    public string? Text(uint tag)
    {
        var text = Encoding.Latin1.GetString(Bytes(tag).Span).Trim(' ', '\0');
        return text.Length == 0 ? null : text;
    }

    /// <summary>Decimal numbers written as text; empty when there are none or one of them is no number.</summary>
    public IReadOnlyList<double> Decimals(uint tag)
    {
        var parts = (Text(tag) ?? string.Empty).Split('\\');
        var numbers = new List<double>();
        foreach (var part in parts)
        {
            if (!double.TryParse(part.Trim(' ', '\0'), NumberStyles.Float, CultureInfo.InvariantCulture, out var number) || !double.IsFinite(number))
            {
                return [];
            }

            numbers.Add(number);
        }

        return numbers;
    }

    private static Answer<DicomElements> ParseBehind(DicomElements header, ReadOnlyMemory<byte> bytes, DicomCursor cursor, TransferSyntax syntax, bool isGuessed)
    {
        // Files said to be explicit are walked so even where they are not: the cursor knows implicit elements among them.
        var isOtherwise = !syntax.Encoding.IsExplicit && cursor.NextLooksExplicit();
        var elements = new DicomElements(isOtherwise ? TransferSyntax.Explicit : syntax)
        {
            IsGuessed = isGuessed,
            IsIrregular = header.IsIrregular || (isOtherwise && !isGuessed),
        };
        foreach (var (tag, value) in header.values)
        {
            elements.values.Add(tag, value);
        }

        return elements.Walk(bytes, ref cursor, onlyGroup: null) is { } damage ? damage : elements;
    }

    private static string Written(uint tag) => string.Create(CultureInfo.InvariantCulture, $"({tag >> 16:X4},{tag & 0xFFFF:X4})");

    private Refusal? Walk(ReadOnlyMemory<byte> file, ref DicomCursor cursor, int? onlyGroup)
    {
        while (onlyGroup is null || cursor.NextGroup() == onlyGroup)
        {
            if (cursor.Next(encoding) is not { } element)
            {
                break;
            }

            IsIrregular |= cursor.MetIrregular;
            if (element.Tag == DicomTag.PixelData)
            {
                HasPixelPieces = element.Length == DicomCursor.Undefined;
                EndsEarly = !HasPixelPieces && element.Length > cursor.Left;
                values[element.Tag] = new Value(file.Slice(cursor.Position, (int)Math.Min(element.Length, cursor.Left)), element.Representation, encoding);
                break;
            }

            // The end of an item that ends with a mark.
            if (element.Tag == DicomCursor.ItemEnd)
            {
                break;
            }

            var start = cursor.Position;
            if (!cursor.Skip(element, encoding))
            {
                return FilmRefusals.Damaged(DicomReader.Name, $"its element {Written(element.Tag)} at byte {start} reaches beyond the end of the file");
            }

            if (DicomTag.IsLookedAt(element.Tag))
            {
                IsIrregular |= !values.TryAdd(element.Tag, new Value(file[start..cursor.Position], element.Representation, DicomCursor.Inside(element, encoding)));
            }
        }

        return null;
    }

    private readonly record struct Value(ReadOnlyMemory<byte> Bytes, string Representation, DicomEncoding Inside);
}
