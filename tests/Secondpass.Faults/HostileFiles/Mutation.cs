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
        var bytes = (byte[])seed.Bytes.Clone();
        for (var times = random.Next(1, 4); times > 0; times--)
        {
            bytes = Once(seed, bytes, random);
        }

        // Half of the PNG files get right checksums, or nothing behind them would ever be reached.
        if (bytes.Length > 8 && bytes[0] == 0x89 && random.Next(2) == 0)
        {
            MendChecksums(bytes);
        }

        return bytes;
    }

    private static byte[] Once(Seed seed, byte[] bytes, Random random)
    {
        if (bytes.Length < 8)
        {
            return bytes;
        }

        var any = random.Next(bytes.Length);
        var field = seed.Fields[random.Next(seed.Fields.Count)] % bytes.Length;
        switch (random.Next(9))
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
            default:
                random.NextBytes(bytes.AsSpan(any, Math.Min(bytes.Length - any, random.Next(1, 32))));
                return bytes;
        }
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
