namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>A Huffman table of a JPEG file, ready to decode with (ITU-T T.81, Annex C and F.2.2.3).</summary>
internal sealed class HuffmanTable
{
    private const int LookupBits = 9;

    private readonly byte[] symbols;
    private readonly short[] lookup = new short[1 << LookupBits];
    private readonly int[] greatestCode = new int[17];
    private readonly int[] offset = new int[17];

    private HuffmanTable(byte[] symbols) => this.symbols = symbols;

    /// <summary>Makes the table.</summary>
    /// <param name="counts">16 numbers: how many codes have 1, 2, … 16 bits.</param>
    /// <param name="symbols">The symbols in order of their codes; as many as the counts add up to.</param>
    /// <returns>The table, or null when there are more codes than that many bits can tell apart.</returns>
    public static HuffmanTable? Make(ReadOnlySpan<byte> counts, ReadOnlySpan<byte> symbols)
    {
        var table = new HuffmanTable(symbols.ToArray());
        var code = 0;
        var index = 0;
        for (var length = 1; length <= 16; length++)
        {
            table.offset[length] = index - code;
            for (var i = 0; i < counts[length - 1]; i++, code++, index++)
            {
                if (code >= 1 << length)
                {
                    return null;
                }

                if (length <= LookupBits)
                {
                    var first = code << (LookupBits - length);
                    table.lookup.AsSpan(first, 1 << (LookupBits - length)).Fill((short)((length << 8) | symbols[index]));
                }
            }

            table.greatestCode[length] = counts[length - 1] == 0 ? -1 : code - 1;
            code <<= 1;
        }

        return table;
    }

    /// <summary>Finds the code at the front of 16 bits.</summary>
    /// <param name="bits">The next 16 bits.</param>
    /// <param name="length">The code's length in bits.</param>
    /// <returns>The symbol, or −1 when no code begins so.</returns>
    public int Find(int bits, out int length)
    {
        int entry = lookup[bits >> (16 - LookupBits)];
        if (entry != 0)
        {
            length = entry >> 8;
            return entry & 0xFF;
        }

        for (length = LookupBits + 1; length <= 16; length++)
        {
            var code = bits >> (16 - length);
            if (code <= greatestCode[length])
            {
                var index = code + offset[length];
                return index >= 0 && index < symbols.Length ? symbols[index] : -1;
            }
        }

        return -1;
    }
}
