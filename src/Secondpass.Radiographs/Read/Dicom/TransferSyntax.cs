namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>How the pixels of a DICOM film are packed.</summary>
internal enum PixelPacking
{
    /// <summary>Not at all.</summary>
    None,

    /// <summary>Not at all, but in pieces as packed pixels are.</summary>
    Pieces,

    /// <summary>Runs of equal bytes (PS3.5, Annex G).</summary>
    Runs,

    /// <summary>As a JPEG picture (PS3.5, 8.2.1).</summary>
    Jpeg,
}

/// <summary>One of the ways a DICOM file can be encoded (DICOM PS3.5, Annex A; identifiers in PS3.6, table A-1).</summary>
/// <param name="Encoding">How its elements are written.</param>
/// <param name="Packing">How its pixels are packed.</param>
/// <param name="IsDeflated">Whether everything behind the first group is deflated.</param>
internal sealed record TransferSyntax(DicomEncoding Encoding, PixelPacking Packing = PixelPacking.None, bool IsDeflated = false)
{
    /// <summary>Implicit value representation, little endian.</summary>
    public static TransferSyntax Implicit { get; } = new(DicomEncoding.Implicit);

    /// <summary>Explicit value representation, little endian.</summary>
    public static TransferSyntax Explicit { get; } = new(DicomEncoding.Explicit);

    private static readonly TransferSyntax Jpeg = new(DicomEncoding.Explicit, PixelPacking.Jpeg);

    private static readonly Dictionary<string, TransferSyntax> Read = new()
    {
        ["1.2.840.10008.1.2"] = Implicit,
        ["1.2.840.10008.1.2.1"] = Explicit,
        ["1.2.840.10008.1.2.1.98"] = new(DicomEncoding.Explicit, PixelPacking.Pieces),
        ["1.2.840.10008.1.2.1.99"] = new(DicomEncoding.Explicit, IsDeflated: true),
        ["1.2.840.10008.1.2.2"] = new(new DicomEncoding(IsExplicit: true, IsBigEndian: true)),
        ["1.2.840.10008.1.2.4.50"] = Jpeg,
        ["1.2.840.10008.1.2.4.51"] = Jpeg,
        ["1.2.840.10008.1.2.4.53"] = Jpeg,
        ["1.2.840.10008.1.2.4.55"] = Jpeg,
        ["1.2.840.10008.1.2.4.57"] = Jpeg,
        ["1.2.840.10008.1.2.4.70"] = Jpeg,
        ["1.2.840.10008.1.2.5"] = new(DicomEncoding.Explicit, PixelPacking.Runs),
    };

    private static readonly Dictionary<string, string> NotRead = new()
    {
        ["1.2.840.10008.1.2.4.80"] = "JPEG-LS lossless",
        ["1.2.840.10008.1.2.4.81"] = "JPEG-LS near-lossless",
        ["1.2.840.10008.1.2.4.90"] = "JPEG 2000 lossless",
        ["1.2.840.10008.1.2.4.91"] = "JPEG 2000",
        ["1.2.840.10008.1.2.4.92"] = "JPEG 2000 multi-component lossless",
        ["1.2.840.10008.1.2.4.93"] = "JPEG 2000 multi-component",
        ["1.2.840.10008.1.2.4.94"] = "JPEG 2000 fetched from elsewhere (JPIP)",
        ["1.2.840.10008.1.2.4.95"] = "JPEG 2000 fetched from elsewhere (JPIP), deflated",
        ["1.2.840.10008.1.2.4.100"] = "MPEG-2 video",
        ["1.2.840.10008.1.2.4.101"] = "MPEG-2 video",
        ["1.2.840.10008.1.2.4.102"] = "MPEG-4 video",
        ["1.2.840.10008.1.2.4.103"] = "MPEG-4 video",
        ["1.2.840.10008.1.2.4.110"] = "JPEG XL lossless",
        ["1.2.840.10008.1.2.4.111"] = "JPEG XL",
        ["1.2.840.10008.1.2.4.112"] = "JPEG XL",
        ["1.2.840.10008.1.2.4.201"] = "high-throughput JPEG 2000 lossless",
        ["1.2.840.10008.1.2.4.202"] = "high-throughput JPEG 2000 lossless",
        ["1.2.840.10008.1.2.4.203"] = "high-throughput JPEG 2000",
    };

    /// <summary>The syntax with an identifier, or null when it is not read.</summary>
    /// <param name="identifier">The identifier as the file gives it.</param>
    public static TransferSyntax? Find(string identifier) => Read.GetValueOrDefault(identifier);

    /// <summary>What a file in a syntax that is not read uses, as the end of the sentence "This file uses …".</summary>
    /// <param name="identifier">The identifier as the file gives it.</param>
    public static string Describe(string identifier)
    {
        if (NotRead.TryGetValue(identifier, out var name))
        {
            return $"the encoding “{name}” (transfer syntax {identifier})";
        }

        var shown = new string([.. identifier.Where(character => char.IsAsciiDigit(character) || character == '.').Take(64)]);
        return $"an encoding that is not known (transfer syntax {shown})";
    }
}
