namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>One scan of a JPEG picture without loss: each sample is what its neighbours foretell and a coded difference (ITU-T T.81, Annex H).</summary>
/// <param name="Parts">The components in it, one sample of each in turn.</param>
/// <param name="Predictor">Which neighbours foretell a sample, 1 to 7 (table H.1).</param>
/// <param name="BitsLeftOut">Lowest bits that were left out before coding (the point transform, A.4).</param>
internal sealed record JpegLosslessScan(IReadOnlyList<JpegScanPart> Parts, int Predictor, int BitsLeftOut)
{
    // H.1.2.2: a difference of 16 bits is always 32768, and none of its bits follow.
    private const int LongestDifference = 16;
    private const int GreatestDifference = 32768;

    /// <summary>Decodes the scan into its planes.</summary>
    /// <param name="frame">The frame.</param>
    /// <param name="coded">The scan's coded data.</param>
    /// <param name="restartInterval">Samples of each component from restart mark to restart mark, whole rows (H.1.1); 0 for none.</param>
    /// <returns>Whether all of it could be decoded.</returns>
    public bool Decode(JpegFrame frame, ReadOnlySpan<byte> coded, int restartInterval)
    {
        var bits = new JpegBits(coded);
        var rowsToRestart = restartInterval / frame.Width;
        var nextMark = 0;
        for (var y = 0; y < frame.Height; y++)
        {
            var isFirst = y == 0;
            if (rowsToRestart > 0 && y > 0 && y % rowsToRestart == 0)
            {
                bits.PassRestartMark(nextMark);
                nextMark = (nextMark + 1) % 8;
                isFirst = true;
            }

            for (var x = 0; x < frame.Width; x++)
            {
                foreach (var part in Parts)
                {
                    var at = (y * frame.Width) + x;
                    var foretold = Foretold(part.Plane.Samples, frame, at, x == 0, isFirst);
                    part.Plane.Samples[at] = (ushort)(foretold + Difference(part.Dc!, ref bits));
                }
            }

            if (bits.Failed)
            {
                return false;
            }
        }

        RestoreBits();
        return true;
    }

    private static int Difference(HuffmanTable table, ref JpegBits bits)
    {
        var length = bits.Symbol(table);
        return length == LongestDifference ? GreatestDifference : bits.SignedNumber(Math.Min(length, LongestDifference));
    }

    // H.1.2.1: half the range to begin with, the sample to the left in the first row, the one above at the beginning of the others.
    private int Foretold(ushort[] samples, JpegFrame frame, int at, bool isFirstOfRow, bool isFirstRow)
    {
        if (isFirstRow)
        {
            return isFirstOfRow ? 1 << (frame.Precision - BitsLeftOut - 1) : samples[at - 1];
        }

        var above = samples[at - frame.Width];
        if (isFirstOfRow)
        {
            return above;
        }

        var left = samples[at - 1];
        var aboveLeft = samples[at - frame.Width - 1];
        return Predictor switch
        {
            1 => left,
            2 => above,
            3 => aboveLeft,
            4 => left + above - aboveLeft,
            5 => left + ((above - aboveLeft) >> 1),
            6 => above + ((left - aboveLeft) >> 1),
            _ => (left + above) >> 1,
        };
    }

    private void RestoreBits()
    {
        if (BitsLeftOut == 0)
        {
            return;
        }

        foreach (var part in Parts)
        {
            foreach (ref var sample in part.Plane.Samples.AsSpan())
            {
                sample = (ushort)(sample << BitsLeftOut);
            }
        }
    }
}
