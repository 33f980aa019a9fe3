using System.Buffers.Binary;
using Secondpass.Domain;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>Unpacks pixels packed as runs (DICOM PS3.5, Annex G): one segment for each byte of each value of a pixel, the highest byte first.</summary>
internal static class DicomRuns
{
    private const int HeaderLength = 64;

    // Two bytes give 128 (Annex G.3.1).
    private const int GreatestRatio = 64;

    /// <summary>Unpacks.</summary>
    /// <param name="picture">How the pixels are stored; its size has been checked.</param>
    /// <param name="packed">The frame.</param>
    /// <returns>The values, channel after channel.</returns>
    public static Answer<ushort[]> Unpack(DicomPicture picture, ReadOnlySpan<byte> packed)
    {
        var segments = picture.Channels * picture.BytesPerValue;
        if (packed.Length < HeaderLength || BinaryPrimitives.ReadUInt32LittleEndian(packed) is var stated && stated != segments)
        {
            return FilmRefusals.Damaged(DicomReader.Name, $"its packed picture does not have the {segments} parts that it needs");
        }

        if ((long)packed.Length * GreatestRatio < picture.Length)
        {
            return FilmRefusals.Damaged(DicomReader.Name, $"it states {picture.Width} × {picture.Height} pixels, which its {packed.Length} bytes of picture can't hold");
        }

        var count = picture.Width * picture.Height;
        var values = new ushort[count * picture.Channels];
        for (var segment = 0; segment < segments; segment++)
        {
            var begin = BinaryPrimitives.ReadUInt32LittleEndian(packed[(4 * (segment + 1))..]);
            var end = segment + 1 < segments ? BinaryPrimitives.ReadUInt32LittleEndian(packed[(4 * (segment + 2))..]) : (uint)packed.Length;
            var channel = values.AsSpan(segment / picture.BytesPerValue * count, count);
            if (begin < HeaderLength || begin > end || end > packed.Length || !UnpackSegment(packed[(int)begin..(int)end], channel))
            {
                return FilmRefusals.Damaged(DicomReader.Name, $"part {segment + 1} of {segments} of its packed picture can't be unpacked");
            }
        }

        return values;
    }

    // Each segment's bytes come below those of the segment before.
    private static bool UnpackSegment(ReadOnlySpan<byte> packed, Span<ushort> values)
    {
        var (from, to) = (0, 0);
        while (to < values.Length)
        {
            if (from >= packed.Length)
            {
                return false;
            }

            int count = (sbyte)packed[from++];
            if (count == sbyte.MinValue)
            {
                continue;
            }

            var isRun = count < 0;
            count = 1 + Math.Abs(count);
            if (from + (isRun ? 1 : count) > packed.Length)
            {
                return false;
            }

            // The last run may reach beyond the picture, where the encoder filled up a row.
            for (var i = 0; i < count && to < values.Length; i++, to++)
            {
                values[to] = (ushort)((values[to] << 8) | packed[isRun ? from : from + i]);
            }

            from += isRun ? 1 : count;
        }

        return true;
    }
}
