namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>A table of greys that a DICOM file carries (DICOM PS3.3, C.11.1.1.1 and C.11.2.1.1): what each input becomes.</summary>
/// <param name="First">The input that the first entry is for; smaller inputs take the first entry, inputs beyond the last the last.</param>
/// <param name="Outputs">The entries.</param>
/// <param name="Bits">Bits of an output, 8 to 16.</param>
internal sealed record DicomTable(int First, ushort[] Outputs, int Bits)
{
    private const int MostEntries = 65536;

    /// <summary>The greatest output that its bits can hold.</summary>
    public int GreatestOutput => (1 << Bits) - 1;

    /// <summary>Reads the table in the first item of a sequence.</summary>
    /// <param name="elements">The file's elements.</param>
    /// <param name="sequence">The sequence.</param>
    /// <param name="isSigned">Whether inputs may be negative, where the file does not say so beside the number.</param>
    /// <returns>The table, or null when there is none that can be used.</returns>
    public static DicomTable? Read(DicomElements elements, uint sequence, bool isSigned) =>
        elements.Items(sequence) is [var item, ..] ? Read(item, DicomTag.TableDescriptor, DicomTag.TableData, isSigned) : null;

    /// <summary>Reads the table of two elements.</summary>
    /// <param name="elements">The elements that it stands among.</param>
    /// <param name="descriptor">How many entries, the input of the first, and the bits of an output.</param>
    /// <param name="data">The entries.</param>
    /// <param name="isSigned">Whether inputs may be negative, where the file does not say so beside the number.</param>
    /// <returns>The table, or null when there is none that can be used.</returns>
    public static DicomTable? Read(DicomElements elements, uint descriptor, uint data, bool isSigned)
    {
        if (elements.Number(descriptor) is not { } count
            || elements.Number(descriptor, 1) is not { } first
            || elements.Number(descriptor, 2) is not (>= 8 and <= 16 and var bits))
        {
            return null;
        }

        // 65536 does not fit into the 16 bits of the count and is written as 0.
        count = count == 0 ? MostEntries : count;
        var isNegative = elements.Representation(descriptor) is "SS" || (isSigned && elements.Representation(descriptor) is not "US");
        var bytes = elements.Bytes(data).Span;
        var outputs = new ushort[Math.Min(count, bytes.Length)];
        var isBytes = bytes.Length < 2 * count;

        // Entries of one byte in words of two stand in the order of the words' bytes, as cells do.
        var other = isBytes && elements.Syntax.Encoding.IsBigEndian && elements.Representation(data) == "OW" ? 1 : 0;
        for (var i = 0; i < outputs.Length; i++)
        {
            outputs[i] = isBytes ? (i ^ other) < bytes.Length ? bytes[i ^ other] : (ushort)0 : (ushort)elements.Number(data, i)!.Value;
        }

        return outputs.Length == count && !(isBytes && bits > 8) && !outputs.AsSpan().ContainsAnyExceptInRange((ushort)0, (ushort)((1 << bits) - 1))
            ? new DicomTable(isNegative ? (short)first : first, outputs, bits)
            : null;
    }

    /// <summary>What an input becomes.</summary>
    public ushort Of(double input) => Of((int)Math.Clamp(Math.Round(input, MidpointRounding.AwayFromZero), int.MinValue, int.MaxValue));

    /// <summary>What an input becomes.</summary>
    public ushort Of(int input) => Outputs[Math.Clamp(input - First, 0, Outputs.Length - 1)];
}
