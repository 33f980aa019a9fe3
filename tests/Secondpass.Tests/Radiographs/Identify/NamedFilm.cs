using System.Text;
using Secondpass.Tests.Radiographs.Read;

namespace Secondpass.Tests.Radiographs.Identify;

/// <summary>Small sound DICOM films that name somebody.</summary>
internal static class NamedFilm
{
    /// <summary>A film; each with another shade is another film.</summary>
    public static byte[] Of(
        string? name = null, string? number = null, string? born = null, string? tooth = null, string? date = null, string? time = null, string scheme = "ISO3950-2010", ushort shade = 0)
    {
        var elements = new List<byte[]>
        {
            DicomFile.Text(0x00080005, "CS", "ISO_IR 192"),
            DicomFile.Pixels(Enumerable.Range(0, 64 * 64).Select(value => (ushort)((value + shade) % 4096))),
        };
        Add(0x00080022, "DA", date);
        Add(0x00080032, "TM", time);
        Add(0x00100010, "PN", name);
        Add(0x00100020, "LO", number);
        Add(0x00100030, "DA", born);
        if (tooth is not null)
        {
            byte[] code = [.. DicomFile.Text(0x00080100, "SH", tooth), .. DicomFile.Text(0x00080102, "SH", scheme), .. DicomFile.Text(0x00080104, "LO", "tooth")];
            elements.Add(DicomFile.Element(0x00082228, "SQ", DicomFile.Bare(0xFFFEE000, (uint)code.Length, code)));
        }

        return DicomFile.Sound([.. elements]);

        void Add(uint tag, string representation, string? text)
        {
            if (text is not null)
            {
                elements.Add(DicomFile.Element(tag, representation, Even(Encoding.UTF8.GetBytes(text))));
            }
        }
    }

    /// <summary>Bytes padded to an even number.</summary>
    public static byte[] Even(byte[] bytes) => bytes.Length % 2 == 0 ? bytes : [.. bytes, (byte)' '];
}
