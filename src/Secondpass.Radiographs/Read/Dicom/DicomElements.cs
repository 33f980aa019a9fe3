using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The elements of a DICOM file that reading a film needs; everything else is passed over.</summary>
internal sealed class DicomElements
{
    private readonly Dictionary<uint, ReadOnlyMemory<byte>> values = [];

    /// <summary>Whether something was met that the standard does not allow but that could be read.</summary>
    public bool IsIrregular { get; private set; }

    /// <summary>Whether the encoding had to be guessed.</summary>
    public bool IsGuessed { get; private set; }

    /// <summary>Whether the pixels come in compressed pieces.</summary>
    public bool HasPixelPieces { get; private set; }

    /// <summary>Reads the elements up to the pixels.</summary>
    /// <param name="file">The whole file.</param>
    public static Answer<DicomElements> Parse(ReadOnlyMemory<byte> file)
    {
        var elements = new DicomElements();
        var cursor = new DicomCursor(file.Span, DicomDetector.HasPreamble(file.Span) ? DicomDetector.PreambleLength + 4 : 0);

        // The first group is always explicit (PS3.10, 7.1).
        if (elements.Walk(file, ref cursor, isExplicit: true, onlyGroup: 2) is { } damageInFront)
        {
            return damageInFront;
        }

        var syntax = elements.Text(DicomTag.TransferSyntax);
        elements.IsGuessed = syntax is null;
        if (syntax is not (null or TransferSyntax.ImplicitLittleEndian or TransferSyntax.ExplicitLittleEndian))
        {
            return FilmRefusals.Unsupported(
                DicomReader.Name,
                TransferSyntax.Describe(syntax),
                "Export the film again without compression (explicit VR little endian), or as a grey PNG or TIFF.");
        }

        // Files said to be explicit are walked so even where they are not: the cursor knows implicit elements among them.
        var isExplicit = syntax == TransferSyntax.ExplicitLittleEndian || cursor.NextLooksExplicit();
        elements.IsIrregular |= syntax == TransferSyntax.ImplicitLittleEndian && isExplicit;
        return elements.Walk(file, ref cursor, isExplicit, onlyGroup: null) is { } damage ? damage : elements;
    }

    /// <summary>Whether the element is there.</summary>
    public bool Has(uint tag) => values.ContainsKey(tag);

    /// <summary>The bytes of an element; empty when it is not there.</summary>
    public ReadOnlyMemory<byte> Bytes(uint tag) => values.GetValueOrDefault(tag);

    /// <summary>A whole number of 16 bits, or null when it is not there.</summary>
    public int? Number(uint tag) => Bytes(tag) is { Length: >= 2 } bytes ? BinaryPrimitives.ReadUInt16LittleEndian(bytes.Span) : null;

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

    private static string Written(uint tag) => string.Create(CultureInfo.InvariantCulture, $"({tag >> 16:X4},{tag & 0xFFFF:X4})");

    private Refusal? Walk(ReadOnlyMemory<byte> file, ref DicomCursor cursor, bool isExplicit, int? onlyGroup)
    {
        while (onlyGroup is null || cursor.NextGroup() == onlyGroup)
        {
            if (cursor.Next(isExplicit) is not { } element)
            {
                break;
            }

            IsIrregular |= cursor.MetIrregular;
            if (element.Tag == DicomTag.PixelData)
            {
                HasPixelPieces = element.Length == DicomCursor.Undefined;
                values[element.Tag] = file.Slice(cursor.Position, (int)Math.Min(element.Length, cursor.Left));
                break;
            }

            var start = cursor.Position;
            if (!cursor.Skip(element, isExplicit))
            {
                return FilmRefusals.Damaged(DicomReader.Name, $"its element {Written(element.Tag)} at byte {start} reaches beyond the end of the file");
            }

            if (DicomTag.IsLookedAt(element.Tag))
            {
                IsIrregular |= !values.TryAdd(element.Tag, file[start..cursor.Position]);
            }
        }

        return null;
    }
}
