namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>The inverse cosine transform of an 8 × 8 block, in integers.</summary>
/// <remarks>
/// Method: C. Loeffler, A. Ligtenberg, G. S. Moschytz, "Practical fast 1-D DCT algorithms with 11 multiplications",
/// ICASSP 1989, pp. 988–991, with 13 fractional bits, columns first, and the same rounding as the "slow integer"
/// transform of the Independent JPEG Group's library, so that results equal that library's bit for bit.
/// </remarks>
internal static class InverseCosine
{
    private const int FractionBits = 13;

    // The constants are the method's, times 2^13, rounded.
    private const int C0298631336 = 2446;
    private const int C0390180644 = 3196;
    private const int C0541196100 = 4433;
    private const int C0765366865 = 6270;
    private const int C0899976223 = 7373;
    private const int C1175875602 = 9633;
    private const int C1501321110 = 12299;
    private const int C1847759065 = 15137;
    private const int C1961570560 = 16069;
    private const int C2053119869 = 16819;
    private const int C2562915447 = 20995;
    private const int C3072711026 = 25172;

    /// <summary>Turns coefficients into samples.</summary>
    /// <param name="coefficients">64 coefficients, row by row, as stored in the file.</param>
    /// <param name="quantization">64 factors, row by row.</param>
    /// <param name="precision">Bits of a sample, 8 or 12.</param>
    /// <param name="samples">Where the top left sample of the block goes; 8 rows of 8.</param>
    /// <param name="stride">Samples from row to row.</param>
    public static void Transform(ReadOnlySpan<short> coefficients, ReadOnlySpan<ushort> quantization, int precision, Span<ushort> samples, int stride)
    {
        var extraBits = precision == 8 ? 2 : 1;
        Span<int> work = stackalloc int[64];
        Span<int> line = stackalloc int[8];
        for (var x = 0; x < 8; x++)
        {
            for (var y = 0; y < 8; y++)
            {
                line[y] = coefficients[(8 * y) + x] * quantization[(8 * y) + x];
            }

            TransformLine(line, FractionBits - extraBits);
            for (var y = 0; y < 8; y++)
            {
                work[(8 * y) + x] = line[y];
            }
        }

        var centre = 1 << (precision - 1);
        var greatest = (1 << precision) - 1;
        for (var y = 0; y < 8; y++)
        {
            var row = work.Slice(8 * y, 8);
            TransformLine(row, FractionBits + extraBits + 3);
            for (var x = 0; x < 8; x++)
            {
                samples[(stride * y) + x] = (ushort)Math.Clamp(row[x] + centre, 0, greatest);
            }
        }
    }

    private static void TransformLine(Span<int> v, int shift)
    {
        var z1 = (v[2] + v[6]) * C0541196100;
        var even2 = z1 - (v[6] * C1847759065);
        var even3 = z1 + (v[2] * C0765366865);
        var even0 = (v[0] + v[4]) << FractionBits;
        var even1 = (v[0] - v[4]) << FractionBits;
        var (t10, t13, t11, t12) = (even0 + even3, even0 - even3, even1 + even2, even1 - even2);

        var (odd0, odd1, odd2, odd3) = (v[7], v[5], v[3], v[1]);
        z1 = (odd0 + odd3) * -C0899976223;
        var z2 = (odd1 + odd2) * -C2562915447;
        var z5 = (odd0 + odd2 + odd1 + odd3) * C1175875602;
        var z3 = ((odd0 + odd2) * -C1961570560) + z5;
        var z4 = ((odd1 + odd3) * -C0390180644) + z5;
        odd0 = (odd0 * C0298631336) + z1 + z3;
        odd1 = (odd1 * C2053119869) + z2 + z4;
        odd2 = (odd2 * C3072711026) + z2 + z3;
        odd3 = (odd3 * C1501321110) + z1 + z4;

        var half = 1 << (shift - 1);
        v[0] = (t10 + odd3 + half) >> shift;
        v[7] = (t10 - odd3 + half) >> shift;
        v[1] = (t11 + odd2 + half) >> shift;
        v[6] = (t11 - odd2 + half) >> shift;
        v[2] = (t12 + odd1 + half) >> shift;
        v[5] = (t12 - odd1 + half) >> shift;
        v[3] = (t13 + odd0 + half) >> shift;
        v[4] = (t13 - odd0 + half) >> shift;
    }
}
