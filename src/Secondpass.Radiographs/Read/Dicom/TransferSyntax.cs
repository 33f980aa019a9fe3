namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The ways a DICOM file can be encoded, by identifier (DICOM PS3.6, table A-1).</summary>
internal static class TransferSyntax
{
    /// <summary>Implicit value representation, little endian.</summary>
    public const string ImplicitLittleEndian = "1.2.840.10008.1.2";

    /// <summary>Explicit value representation, little endian.</summary>
    public const string ExplicitLittleEndian = "1.2.840.10008.1.2.1";

    private static readonly Dictionary<string, string> NotRead = new()
    {
        ["1.2.840.10008.1.2.1.98"] = "encapsulated uncompressed explicit VR little endian",
        ["1.2.840.10008.1.2.1.99"] = "deflated explicit VR little endian",
        ["1.2.840.10008.1.2.2"] = "explicit VR big endian",
        ["1.2.840.10008.1.2.4.50"] = "JPEG baseline",
        ["1.2.840.10008.1.2.4.51"] = "JPEG extended",
        ["1.2.840.10008.1.2.4.57"] = "JPEG lossless, process 14",
        ["1.2.840.10008.1.2.4.70"] = "JPEG lossless, process 14, first-order prediction",
        ["1.2.840.10008.1.2.4.80"] = "JPEG-LS lossless",
        ["1.2.840.10008.1.2.4.81"] = "JPEG-LS near-lossless",
        ["1.2.840.10008.1.2.4.90"] = "JPEG 2000 lossless",
        ["1.2.840.10008.1.2.4.91"] = "JPEG 2000",
        ["1.2.840.10008.1.2.4.92"] = "JPEG 2000 multi-component lossless",
        ["1.2.840.10008.1.2.4.93"] = "JPEG 2000 multi-component",
        ["1.2.840.10008.1.2.4.100"] = "MPEG-2 video",
        ["1.2.840.10008.1.2.4.101"] = "MPEG-2 video",
        ["1.2.840.10008.1.2.4.102"] = "MPEG-4 video",
        ["1.2.840.10008.1.2.4.103"] = "MPEG-4 video",
        ["1.2.840.10008.1.2.4.201"] = "high-throughput JPEG 2000 lossless",
        ["1.2.840.10008.1.2.4.202"] = "high-throughput JPEG 2000 lossless",
        ["1.2.840.10008.1.2.4.203"] = "high-throughput JPEG 2000",
        ["1.2.840.10008.1.2.5"] = "RLE lossless",
    };

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
