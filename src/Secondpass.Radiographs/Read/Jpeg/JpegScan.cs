namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>One component's part in a scan: where it goes, and what it is decoded with.</summary>
/// <param name="Plane">The component.</param>
/// <param name="Dc">The table of its first coefficients; null where the scan does not need it.</param>
/// <param name="Ac">The table of its other coefficients; null where the scan does not need it.</param>
internal sealed record JpegScanPart(JpegPlane Plane, HuffmanTable? Dc, HuffmanTable? Ac)
{
    /// <summary>The last block's first coefficient.</summary>
    public int Prediction { get; set; }
}

/// <summary>One scan of a JPEG picture: which components and coefficients it carries, and their decoding (ITU-T T.81, Annexes F and G).</summary>
/// <param name="Parts">The components in it.</param>
/// <param name="First">First coefficient in zigzag order.</param>
/// <param name="Last">Last coefficient.</param>
/// <param name="HighBit">The lowest bit known before this scan; 0 for a first scan.</param>
/// <param name="LowBit">The lowest bit known after it.</param>
internal sealed record JpegScan(IReadOnlyList<JpegScanPart> Parts, int First, int Last, int HighBit, int LowBit)
{
    private int blocksToSkip;

    private static ReadOnlySpan<byte> Zigzag =>
    [
        0, 1, 8, 16, 9, 2, 3, 10, 17, 24, 32, 25, 18, 11, 4, 5, 12, 19, 26, 33, 40, 48, 41, 34, 27, 20, 13, 6, 7, 14, 21, 28,
        35, 42, 49, 56, 57, 50, 43, 36, 29, 22, 15, 23, 30, 37, 44, 51, 58, 59, 52, 45, 38, 31, 39, 46, 53, 60, 61, 54, 47, 55, 62, 63,
    ];

    /// <summary>Where the coefficient of a zigzag number stands in a block of rows.</summary>
    public static int Place(int zigzagNumber) => Zigzag[zigzagNumber];

    /// <summary>Decodes the scan into its planes.</summary>
    /// <param name="frame">The frame.</param>
    /// <param name="coded">The scan's coded data.</param>
    /// <param name="restartInterval">Coded units from restart mark to restart mark; 0 for none.</param>
    /// <returns>Whether all of it could be decoded.</returns>
    public bool Decode(JpegFrame frame, ReadOnlySpan<byte> coded, int restartInterval)
    {
        var bits = new JpegBits(coded);
        var alone = Parts.Count == 1;
        var columns = alone ? Parts[0].Plane.BlockColumns : frame.UnitColumns;
        var rows = alone ? Parts[0].Plane.BlockRows : frame.UnitRows;
        var untilRestart = restartInterval;
        var nextMark = 0;
        for (var row = 0; row < rows; row++)
        {
            for (var column = 0; column < columns; column++)
            {
                if (restartInterval > 0 && untilRestart == 0)
                {
                    bits.PassRestartMark(nextMark);
                    nextMark = (nextMark + 1) % 8;
                    untilRestart = restartInterval;
                    blocksToSkip = 0;
                    foreach (var part in Parts)
                    {
                        part.Prediction = 0;
                    }
                }

                untilRestart--;
                if (alone)
                {
                    DecodeBlock(frame, Parts[0], column, row, ref bits);
                }
                else
                {
                    DecodeUnit(frame, column, row, ref bits);
                }

                if (bits.Failed)
                {
                    return false;
                }
            }
        }

        return true;
    }

    private void DecodeUnit(JpegFrame frame, int column, int row, ref JpegBits bits)
    {
        foreach (var part in Parts)
        {
            var (horizontal, vertical) = (part.Plane.Component.Horizontal, part.Plane.Component.Vertical);
            for (var y = 0; y < vertical; y++)
            {
                for (var x = 0; x < horizontal; x++)
                {
                    DecodeBlock(frame, part, (column * horizontal) + x, (row * vertical) + y, ref bits);
                }
            }
        }
    }

    private void DecodeBlock(JpegFrame frame, JpegScanPart part, int column, int row, ref JpegBits bits)
    {
        if (frame.Process != JpegProcess.Progressive)
        {
            Span<short> block = stackalloc short[64];
            block.Clear();
            DecodeSequential(part, block, ref bits);
            part.Plane.Show(block, column, row);
            return;
        }

        var stored = part.Plane.Block(column, row);
        if (First == 0)
        {
            if (HighBit == 0)
            {
                part.Prediction += bits.SignedNumber(Math.Min(bits.Symbol(part.Dc!), 16));
                stored[0] = (short)(part.Prediction << LowBit);
            }
            else if (bits.Number(1) != 0)
            {
                stored[0] |= (short)(1 << LowBit);
            }
        }
        else if (HighBit == 0)
        {
            DecodeFirstAc(part.Ac!, stored, ref bits);
        }
        else
        {
            RefineAc(part.Ac!, stored, ref bits);
        }
    }

    private static void DecodeSequential(JpegScanPart part, scoped Span<short> block, ref JpegBits bits)
    {
        part.Prediction += bits.SignedNumber(Math.Min(bits.Symbol(part.Dc!), 16));
        block[0] = (short)part.Prediction;
        for (var k = 1; k < 64; k++)
        {
            var symbol = bits.Symbol(part.Ac!);
            var (zeros, length) = (symbol >> 4, symbol & 15);
            if (length == 0)
            {
                if (zeros != 15)
                {
                    return;
                }

                k += 15;
                continue;
            }

            k += zeros;
            var value = bits.SignedNumber(length);
            if (k < 64)
            {
                block[Place(k)] = (short)value;
            }
        }
    }

    // T.81, G.1.2.2.
    private void DecodeFirstAc(HuffmanTable table, Span<short> block, ref JpegBits bits)
    {
        if (blocksToSkip > 0)
        {
            blocksToSkip--;
            return;
        }

        for (var k = First; k <= Last; k++)
        {
            var symbol = bits.Symbol(table);
            var (zeros, length) = (symbol >> 4, symbol & 15);
            if (length == 0)
            {
                if (zeros != 15)
                {
                    blocksToSkip = (1 << zeros) + bits.Number(zeros) - 1;
                    return;
                }

                k += 15;
                continue;
            }

            k += zeros;
            var value = bits.SignedNumber(length);
            if (k <= Last)
            {
                block[Place(k)] = (short)(value << LowBit);
            }
        }
    }

    // T.81, G.1.2.3.
    private void RefineAc(HuffmanTable table, Span<short> block, ref JpegBits bits)
    {
        var k = First;
        if (blocksToSkip == 0)
        {
            for (; k <= Last; k++)
            {
                var symbol = bits.Symbol(table);
                var (zeros, length) = (symbol >> 4, symbol & 15);
                short value = 0;
                if (length != 0)
                {
                    value = (short)(bits.Number(1) != 0 ? 1 << LowBit : -(1 << LowBit));
                }
                else if (zeros != 15)
                {
                    blocksToSkip = (1 << zeros) + bits.Number(zeros);
                    break;
                }

                for (; k <= Last; k++)
                {
                    ref var coefficient = ref block[Place(k)];
                    if (coefficient != 0)
                    {
                        Refine(ref coefficient, ref bits);
                    }
                    else if (zeros-- == 0)
                    {
                        coefficient = value;
                        break;
                    }
                }
            }
        }

        if (blocksToSkip > 0)
        {
            for (; k <= Last; k++)
            {
                ref var coefficient = ref block[Place(k)];
                if (coefficient != 0)
                {
                    Refine(ref coefficient, ref bits);
                }
            }

            blocksToSkip--;
        }
    }

    private void Refine(ref short coefficient, ref JpegBits bits)
    {
        if (bits.Number(1) != 0 && (coefficient & (1 << LowBit)) == 0)
        {
            coefficient += (short)(coefficient > 0 ? 1 << LowBit : -(1 << LowBit));
        }
    }
}
