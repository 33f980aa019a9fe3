using System.Buffers.Binary;

namespace Secondpass.Faults.HostileFiles;

/// <summary>Makes hostile files from sound ones; the same seed and number give the same file.</summary>
internal static class Mutation
{
    private static readonly uint[] Extremes =
        [0, 1, 2, 3, 7, 8, 9, 0x7F, 0x80, 0xFF, 0x100, 0x7FFF, 0x8000, 0xFFFF, 0x10000, 0x7FFFFFFF, 0x80000000, 0xFFFFFFF8, 0xFFFFFFFE, 0xFFFFFFFF];

    /// <summary>One hostile file.</summary>
    /// <param name="seed">The sound film.</param>
    /// <param name="number">Which one.</param>
    public static byte[] Of(Seed seed, int number)
    {
        // The seed's name is part of the seed, by a sum that is the same in every run.
        var random = new Random((seed.Name.Sum(character => character) * 100_003) + number);

        // What is deflated is also changed before it is deflated, or nothing behind the unpacking would ever be reached.
        if (random.Next(3) == 0 && Repacked.Of(seed, content => Several(content, seed, Repacked.FieldsOf(seed, content), random)) is { } repacked)
        {
            return repacked;
        }

        var bytes = Several((byte[])seed.Bytes.Clone(), seed, seed.Fields, random);

        // Half of the PNG files get right checksums, or nothing behind them would ever be reached.
        if (bytes.Length > 8 && bytes[0] == 0x89 && random.Next(2) == 0)
        {
            MendChecksums(bytes);
        }

        return bytes;
    }

    private static byte[] Several(byte[] bytes, Seed seed, IReadOnlyList<int> fields, Random random)
    {
        for (var times = random.Next(1, 4); times > 0; times--)
        {
            bytes = Once(bytes, seed, fields, random);
        }

        return bytes;
    }

    private static byte[] Once(byte[] bytes, Seed seed, IReadOnlyList<int> fields, Random random)
    {
        if (bytes.Length < 8)
        {
            return bytes;
        }

        var any = random.Next(bytes.Length);
        var field = fields[random.Next(fields.Count)] % bytes.Length;
        switch (random.Next(13))
        {
            case 0:
                bytes[any] ^= (byte)(1 << random.Next(8));
                return bytes;
            case 1:
                return bytes[..any];
            case 2:
                bytes[field] ^= (byte)(1 << random.Next(8));
                return bytes;
            case 3:
                bytes[field] = (byte)random.Next(256);
                return bytes;
            case 4:
            case 5:
                Overwrite(bytes, field, random);
                return bytes;
            case 6:
                var cut = Math.Min(bytes.Length - any, random.Next(1, 64));
                return [.. bytes[..any], .. bytes[(any + cut)..]];
            case 7:
                var repeated = Math.Min(bytes.Length - any, random.Next(1, 300));
                return [.. bytes[..any], .. bytes[any..(any + repeated)], .. bytes[any..]];
            case 8:
                return Repeat(bytes, field, random);
            case 9:
                return Splice(bytes, seed, random);
            case 10:
                return Exchange(bytes, field, random);
            case 11:
                var inserted = new byte[random.Next(1, 40)];
                random.NextBytes(inserted);
                return [.. bytes[..field], .. inserted, .. bytes[field..]];
            default:
                random.NextBytes(bytes.AsSpan(any, Math.Min(bytes.Length - any, random.Next(1, 32))));
                return bytes;
        }
    }

    // A part that begins where something is stated, such as an element, a table or a scan, many times over.
    private static byte[] Repeat(byte[] bytes, int from, Random random)
    {
        var part = bytes.AsSpan(from, Math.Min(bytes.Length - from, random.Next(2, 200)));
        var times = random.Next(2, 120);
        var longer = new byte[bytes.Length + (times * part.Length)];
        bytes.AsSpan(0, from).CopyTo(longer);
        for (var i = 0; i < times; i++)
        {
            part.CopyTo(longer.AsSpan(from + (i * part.Length)));
        }

        bytes.AsSpan(from).CopyTo(longer.AsSpan(from + (times * part.Length)));
        return longer;
    }

    // The beginning of this file and the end of another film of its kind.
    private static byte[] Splice(byte[] bytes, Seed seed, Random random)
    {
        var others = Seed.OfKind(seed.Kind);
        var other = others[random.Next(others.Count)];
        var at = random.Next(2) == 0 ? random.Next(bytes.Length) : seed.Fields[random.Next(seed.Fields.Count)] % bytes.Length;
        return [.. bytes[..at], .. other.Bytes[Math.Min(random.Next(2) == 0 ? at : other.Fields[random.Next(other.Fields.Count)], other.Bytes.Length)..]];
    }

    // Two neighbouring parts change places.
    private static byte[] Exchange(byte[] bytes, int from, Random random)
    {
        var first = from + Math.Min(bytes.Length - from, random.Next(1, 60));
        var second = first + Math.Min(bytes.Length - first, random.Next(1, 60));
        return [.. bytes[..from], .. bytes[first..second], .. bytes[from..first], .. bytes[second..]];
    }

    private static void Overwrite(byte[] bytes, int field, Random random)
    {
        var value = Extremes[random.Next(Extremes.Length)];
        var place = bytes.AsSpan(field);
        switch (random.Next(4))
        {
            case 0 when place.Length >= 4:
                BinaryPrimitives.WriteUInt32BigEndian(place, value);
                break;
            case 1 when place.Length >= 4:
                BinaryPrimitives.WriteUInt32LittleEndian(place, value);
                break;
            case 2 when place.Length >= 2:
                BinaryPrimitives.WriteUInt16BigEndian(place, (ushort)value);
                break;
            case 3 when place.Length >= 2:
                BinaryPrimitives.WriteUInt16LittleEndian(place, (ushort)value);
                break;
            default:
                place[0] = (byte)value;
                break;
        }
    }

    /// <summary>Gives every block of a PNG file its right checksum.</summary>
    public static void MendChecksums(byte[] bytes)
    {
        for (var at = 8; at + 12 <= bytes.Length;)
        {
            var length = BinaryPrimitives.ReadUInt32BigEndian(bytes.AsSpan(at));
            if (length > bytes.Length - at - 12)
            {
                return;
            }

            BinaryPrimitives.WriteUInt32BigEndian(bytes.AsSpan(at + 8 + (int)length), Checksum(bytes.AsSpan(at + 4, 4 + (int)length)));
            at += 12 + (int)length;
        }
    }

    // ISO/IEC 15948, Annex D, bit by bit.
    private static uint Checksum(ReadOnlySpan<byte> bytes)
    {
        var sum = uint.MaxValue;
        foreach (var value in bytes)
        {
            sum ^= value;
            for (var bit = 0; bit < 8; bit++)
            {
                sum = (sum & 1) != 0 ? 0xEDB88320 ^ (sum >> 1) : sum >> 1;
            }
        }

        return ~sum;
    }
}
