namespace Secondpass.Radiographs.Read.Png;

/// <summary>One pass over the picture: all of it, or one of the seven of Adam7 (ISO/IEC 15948, 8.2).</summary>
/// <param name="FirstX">First column.</param>
/// <param name="FirstY">First row.</param>
/// <param name="StepX">Columns from pixel to pixel.</param>
/// <param name="StepY">Rows from row to row.</param>
internal readonly record struct PngPass(int FirstX, int FirstY, int StepX, int StepY)
{
    private static readonly PngPass[] Whole = [new(0, 0, 1, 1)];

    private static readonly PngPass[] Adam7 =
    [
        new(0, 0, 8, 8), new(4, 0, 8, 8), new(0, 4, 4, 8), new(2, 0, 4, 4), new(0, 2, 2, 4), new(1, 0, 2, 2), new(0, 1, 1, 2),
    ];

    /// <summary>The passes of a picture in the order they are stored.</summary>
    public static IReadOnlyList<PngPass> Of(PngHeader header) => header.Interlaced ? Adam7 : Whole;

    /// <summary>Pixels of one row of this pass.</summary>
    public int Columns(PngHeader header) => (header.Width - FirstX + StepX - 1) / StepX;

    /// <summary>Rows of this pass.</summary>
    public int Rows(PngHeader header) => (header.Height - FirstY + StepY - 1) / StepY;

    /// <summary>Bytes of this pass when unpacked, filter bytes included.</summary>
    public long UnpackedBytes(PngHeader header) => (long)Rows(header) * (1 + header.RowBytes(Columns(header)));
}
