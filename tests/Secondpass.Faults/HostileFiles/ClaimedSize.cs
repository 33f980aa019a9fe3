using System.Buffers.Binary;

namespace Secondpass.Faults.HostileFiles;

/// <summary>Changes the width and height that a film's header states, and nothing else.</summary>
internal static class ClaimedSize
{
    /// <summary>Writes a false size into a copy of a seed.</summary>
    public static void Write(Seed seed, byte[] file, int width, int height)
    {
        switch (Path.GetExtension(seed.Name))
        {
            case ".png":
                BinaryPrimitives.WriteInt32BigEndian(file.AsSpan(16), width);
                BinaryPrimitives.WriteInt32BigEndian(file.AsSpan(20), height);
                Mutation.MendChecksums(file);
                break;
            case ".jpg":
                var frame = 2;
                while (file[frame + 1] is not (0xC0 or 0xC1 or 0xC2 or 0xC3))
                {
                    frame += 2 + BinaryPrimitives.ReadUInt16BigEndian(file.AsSpan(frame + 2));
                }

                BinaryPrimitives.WriteUInt16BigEndian(file.AsSpan(frame + 5), (ushort)height);
                BinaryPrimitives.WriteUInt16BigEndian(file.AsSpan(frame + 7), (ushort)width);
                break;
            case ".tif":
                WriteField(file, 256, width);
                WriteField(file, 257, height);
                break;
            case ".bmp":
                BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(18), width);
                BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(22), height);
                break;
            default:
                WriteElement(file, 0x10, height);
                WriteElement(file, 0x11, width);
                break;
        }
    }

    private static void WriteField(byte[] file, ushort tag, int value)
    {
        var isBig = file[0] == 'M';
        var entry = isBig ? BinaryPrimitives.ReadInt32BigEndian(file.AsSpan(4)) + 2 : BinaryPrimitives.ReadInt32LittleEndian(file.AsSpan(4)) + 2;
        while ((isBig ? BinaryPrimitives.ReadUInt16BigEndian(file.AsSpan(entry)) : BinaryPrimitives.ReadUInt16LittleEndian(file.AsSpan(entry))) != tag)
        {
            entry += 12;
        }

        // Type LONG, whatever it was.
        byte[] field = isBig ? [0, 4, 0, 0, 0, 1, 0, 0, 0, 0] : [4, 0, 1, 0, 0, 0, 0, 0, 0, 0];
        if (isBig)
        {
            BinaryPrimitives.WriteInt32BigEndian(field.AsSpan(6), value);
        }
        else
        {
            BinaryPrimitives.WriteInt32LittleEndian(field.AsSpan(6), value);
        }

        field.CopyTo(file.AsSpan(entry + 2));
    }

    /// <summary>Writes a number of 16 bits into an element of group 0028.</summary>
    public static void WriteElement(byte[] file, byte element, int value)
    {
        // (0028,0010) and (0028,0011) have 8 bytes before their value, with and without a value representation.
        var at = file.AsSpan().LastIndexOf((ReadOnlySpan<byte>)[0x28, 0, element, 0]);
        if (at >= 0)
        {
            BinaryPrimitives.WriteUInt16LittleEndian(file.AsSpan(at + 8), (ushort)value);
        }
        else
        {
            at = file.AsSpan().LastIndexOf((ReadOnlySpan<byte>)[0, 0x28, 0, element]);
            BinaryPrimitives.WriteUInt16BigEndian(file.AsSpan(at + 8), (ushort)value);
        }
    }
}
