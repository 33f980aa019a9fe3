namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>One component of a JPEG picture while it is decoded: its blocks, and in the end its samples.</summary>
internal sealed class JpegPlane
{
    private readonly int precision;
    private readonly short[]? coefficients;

    /// <summary>Makes room for a component.</summary>
    /// <param name="frame">The frame that it belongs to.</param>
    /// <param name="component">The component.</param>
    public JpegPlane(JpegFrame frame, JpegComponent component)
    {
        Component = component;
        KnownBits.AsSpan().Fill(-1);
        precision = frame.Precision;
        if (frame.Process == JpegProcess.Lossless)
        {
            Stride = frame.Width;
            Samples = new ushort[frame.Width * frame.Height];
            return;
        }

        BlockColumns = frame.BlockColumns(component);
        BlockRows = frame.BlockRows(component);
        Stride = 8 * frame.UnitColumns * component.Horizontal;
        var rows = 8 * frame.UnitRows * component.Vertical;
        coefficients = frame.Process == JpegProcess.Progressive ? new short[Stride * rows] : null;
        Samples = new ushort[Stride * rows];
    }

    /// <summary>The component as the frame header describes it.</summary>
    public JpegComponent Component { get; }

    /// <summary>Columns of blocks where the component is coded alone; none where it is coded without loss.</summary>
    public int BlockColumns { get; }

    /// <summary>Rows of blocks where the component is coded alone; none where it is coded without loss.</summary>
    public int BlockRows { get; }

    /// <summary>Samples from row to row: whole coded units, or the width where the component is coded without loss.</summary>
    public int Stride { get; }

    /// <summary>The samples, row by row.</summary>
    public ushort[] Samples { get; }

    /// <summary>The quantization table that was in force at the component's first scan, row by row; null before it.</summary>
    public ushort[]? Quantization { get; set; }

    /// <summary>For each coefficient in zigzag order: the lowest bit known so far, −1 before the first scan, 0 when complete. Samples coded without loss come at once.</summary>
    public int[] KnownBits { get; } = new int[64];

    /// <summary>The stored coefficients of a block of a progressive picture, row by row.</summary>
    public Span<short> Block(int column, int row) => coefficients.AsSpan(64 * ((row * (Stride / 8)) + column), 64);

    /// <summary>Writes the samples of one block.</summary>
    public void Show(ReadOnlySpan<short> block, int column, int row) =>
        InverseCosine.Transform(block, Quantization, precision, Samples.AsSpan((8 * row * Stride) + (8 * column)), Stride);

    /// <summary>Writes the samples of all stored blocks.</summary>
    public void ShowAll()
    {
        for (var row = 0; row < BlockRows; row++)
        {
            for (var column = 0; column < BlockColumns; column++)
            {
                Show(Block(column, row), column, row);
            }
        }
    }
}
