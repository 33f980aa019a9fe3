namespace Secondpass.Faults.HostileFiles;

/// <summary>A small sound film, from which hostile ones are made.</summary>
/// <param name="Name">Its file name.</param>
/// <param name="Bytes">Its content.</param>
/// <param name="Fields">Where the bytes stand that say how long, how large or of what kind something is.</param>
internal sealed record Seed(string Name, byte[] Bytes, IReadOnlyList<int> Fields)
{
    /// <summary>All seeds, in order of their names.</summary>
    public static IReadOnlyList<Seed> All { get; } =
    [
        .. Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "HostileFiles", "Seeds"))
            .Where(file => !file.EndsWith(".md", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .Select(Read),
    ];

    /// <summary>The ending of its name, which tells its format.</summary>
    public string Kind { get; } = Path.GetExtension(Name);

    /// <summary>All seeds of a format.</summary>
    public static IReadOnlyList<Seed> OfKind(string kind) => [.. All.Where(seed => seed.Kind == kind)];

    /// <summary>Whether it is a DICOM film whose pixels come in pieces, behind which an end mark stands.</summary>
    public bool IsInPieces => Kind == ".dcm" && Bytes.AsSpan().EndsWith((ReadOnlySpan<byte>)[0xFE, 0xFF, 0xDD, 0xE0, 0, 0, 0, 0]);

    private static Seed Read(string file)
    {
        var bytes = File.ReadAllBytes(file);
        var fields = Path.GetExtension(file) switch
        {
            ".png" => PngFields(bytes),
            ".jpg" => JpegFields(bytes),
            ".tif" => TiffFields(bytes),
            ".bmp" => Enumerable.Range(0, 62),
            _ => DicomFields(bytes),
        };
        return new Seed(Path.GetFileName(file), bytes, [.. fields]);
    }

    private static IEnumerable<int> PngFields(byte[] bytes)
    {
        for (var at = 8; at + 12 <= bytes.Length; at += 12 + (int)Big(bytes, at, 4))
        {
            // Of a text all of it: a straightened photograph says in one what its lengths rest on.
            var looked = bytes.AsSpan(at + 4, 4).SequenceEqual("tEXt"u8) ? int.MaxValue : 13;
            foreach (var field in Enumerable.Range(at, 8 + (int)Math.Min(looked, Big(bytes, at, 4))))
            {
                yield return field;
            }
        }
    }

    // Marks, lengths and the whole content of every part except comments; then the first coded bytes.
    private static IEnumerable<int> JpegFields(byte[] bytes)
    {
        for (var at = 2; at + 4 <= bytes.Length && bytes[at] == 0xFF && bytes[at + 1] != 0xD9;)
        {
            var length = (int)Big(bytes, at + 2, 2);
            foreach (var field in Enumerable.Range(at, Math.Min(2 + length, 40)))
            {
                yield return field;
            }

            var isScan = bytes[at + 1] == 0xDA;
            at += 2 + length;
            while (isScan && at + 1 < bytes.Length && !(bytes[at] == 0xFF && bytes[at + 1] is not (0 or (>= 0xD0 and <= 0xD7))))
            {
                at++;
            }
        }
    }

    private static IEnumerable<int> TiffFields(byte[] bytes)
    {
        var isBig = bytes[0] == 'M';
        var directory = (int)Number(bytes, 4, 4, isBig);
        return Enumerable.Range(0, 8).Concat(Enumerable.Range(directory, 6 + (12 * (int)Number(bytes, directory, 2, isBig))));
    }

    // All of the header: a DICOM film of this size has a few hundred bytes before its pixels.
    private static IEnumerable<int> DicomFields(byte[] bytes)
    {
        var pixels = Math.Max(bytes.AsSpan().IndexOf(new byte[] { 0xE0, 0x7F, 0x10, 0x00 }), bytes.AsSpan().IndexOf(new byte[] { 0x7F, 0xE0, 0x00, 0x10 }));

        // A deflated film shows no such element; packed pixels begin with their own header.
        return Enumerable.Range(0, pixels < 0 ? 500 : Math.Min(pixels + 120, bytes.Length)).Where(at => at is < 2 or >= 128);
    }

    private static long Big(byte[] bytes, int at, int length) => Number(bytes, at, length, true);

    private static long Number(byte[] bytes, int at, int length, bool isBig)
    {
        var number = 0L;
        for (var i = 0; i < length; i++)
        {
            number = (number << 8) | bytes[at + (isBig ? i : length - 1 - i)];
        }

        return number;
    }
}
