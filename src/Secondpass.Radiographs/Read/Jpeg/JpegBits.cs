namespace Secondpass.Radiographs.Read.Jpeg;

/// <summary>Reads the coded data of one scan bit by bit (ITU-T T.81, F.2.2.5). After the data end, or a code that does not exist, <see cref="Failed"/> stays true and every value is 0.</summary>
/// <param name="coded">The coded data, stuffing and restart marks included.</param>
internal ref struct JpegBits(ReadOnlySpan<byte> coded)
{
    private readonly ReadOnlySpan<byte> coded = coded;
    private int position;
    private ulong buffer;
    private int available;

    /// <summary>Whether more was asked for than there is, or something that is no code.</summary>
    public bool Failed { get; private set; }

    /// <summary>Decodes one symbol.</summary>
    /// <param name="table">The table to decode with.</param>
    public int Symbol(HuffmanTable table)
    {
        Fill();
        var next = available >= 16
            ? (int)(buffer >> (available - 16)) & 0xFFFF
            : (int)(buffer << (16 - available)) & 0xFFFF;
        var symbol = table.Find(next, out var length);
        if (symbol < 0 || length > available)
        {
            Failed = true;
            return 0;
        }

        available -= length;
        return symbol;
    }

    /// <summary>Reads an unsigned number.</summary>
    /// <param name="length">Its bits, 0 to 16.</param>
    public int Number(int length)
    {
        Fill();
        if (length > available)
        {
            Failed = true;
            return 0;
        }

        available -= length;
        return (int)(buffer >> available) & ((1 << length) - 1);
    }

    /// <summary>Reads a number whose first bit tells its sign (T.81, F.2.2.1, EXTEND).</summary>
    /// <param name="length">Its bits, 0 to 16.</param>
    public int SignedNumber(int length)
    {
        var number = Number(length);
        return length == 0 || number >= 1 << (length - 1) ? number : number - (1 << length) + 1;
    }

    /// <summary>Drops the rest of the byte and passes the restart mark that must stand here.</summary>
    /// <param name="number">The mark's number, 0 to 7.</param>
    public void PassRestartMark(int number)
    {
        buffer = 0;
        available = 0;
        while (position < coded.Length && (coded[position] != 0xFF || (position + 1 < coded.Length && coded[position + 1] is 0 or 0xFF)))
        {
            position++;
        }

        if (position + 1 < coded.Length && coded[position + 1] == 0xD0 + number)
        {
            position += 2;
        }
        else
        {
            Failed = true;
        }
    }

    private void Fill()
    {
        while (available <= 48 && position < coded.Length)
        {
            var value = coded[position];
            if (value == 0xFF)
            {
                var next = position + 1;
                while (next < coded.Length && coded[next] == 0xFF)
                {
                    next++;
                }

                if (next >= coded.Length || coded[next] != 0)
                {
                    // A restart mark: nothing more until it is passed.
                    return;
                }

                position = next;
            }

            position++;
            buffer = (buffer << 8) | value;
            available += 8;
        }
    }
}
