using Secondpass.Domain.Films;
using static Secondpass.Tests.Radiographs.Read.Answers;

namespace Secondpass.Tests.Radiographs.Read;

public sealed class TiffTests
{
    [Fact]
    public void Keeps_every_value()
    {
        var film = Film(TiffFile.Sound());

        Assert.Equal((64, 64, 255, FilmFormat.Tiff), (film.Width, film.Height, film.GreatestValue, film.Format));
        Assert.Equal(Enumerable.Range(0, 64 * 64).Select(i => (ushort)((i / 64) + (i % 64))), film.Pixels.ToArray());
        Assert.Empty(film.Notices);
        Assert.Null(film.Spacing);
    }

    // TIFF 6.0, tag 262: 0 means that 0 is white.
    [Fact]
    public void Turns_white_as_zero_round_so_that_larger_is_lighter()
    {
        var film = Film(TiffFile.Sound(new TiffFile.Field(262, 3, 0)));

        Assert.Equal((255, 255 - 126), (film.At(0, 0), film.At(63, 63)));
    }

    [Fact]
    public void Turns_colour_into_luma_with_a_notice()
    {
        var picture = new byte[64 * 64 * 3];
        (picture[0], picture[4]) = (255, 255);

        var film = Film(TiffFile.Of(64, 64, picture, new TiffFile.Field(262, 3, 2), new TiffFile.Field(277, 3, 3), new TiffFile.Field(258, 3, 8, Count: 3)));

        // Recommendation ITU-R BT.709-6: red alone gives 54, green alone 182.
        Assert.Equal([54, 182, 0], film.Pixels[..3].ToArray());
        Assert.Equal([ColourToGrey], film.Notices);
    }

    // TIFF 6.0, section 8: 25.4 mm in an inch, 10 in a centimetre; the inch where no unit is stated.
    [Theory]
    [InlineData(2, 1016, 1, 0.025)]
    [InlineData(3, 400, 1, 0.025)]
    [InlineData(null, 10160, 10, 0.025)]
    [InlineData(1, 1016, 1, null)]
    public void Reads_the_resolution_when_it_has_a_unit(int? unit, int value, int denominator, double? millimetres)
    {
        TiffFile.Field[] fields = [new(282, 5, (uint)value, (uint)denominator), new(283, 5, (uint)value, (uint)denominator)];

        var spacing = Film(TiffFile.Sound(unit is { } stated ? [.. fields, new TiffFile.Field(296, 3, (uint)stated)] : fields)).Spacing;

        Assert.Equal(millimetres, spacing is { } size ? Math.Round(size.PixelHeight.Value, 9, MidpointRounding.AwayFromZero) : null);
        Assert.Equal(millimetres is null ? null : SpacingMeaning.Unstated, spacing?.Meaning);
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 0)]
    [InlineData(0, 0)]
    public void Ignores_a_resolution_that_is_none_with_a_notice(uint value, uint denominator)
    {
        var film = Film(TiffFile.Sound(new TiffFile.Field(282, 5, value, denominator), new TiffFile.Field(283, 5, value, denominator)));

        Assert.Null(film.Spacing);
        Assert.Equal(["The file states a resolution of zero; it was ignored."], film.Notices);
    }

    [Fact]
    public void Turns_the_film_and_its_pixel_size_upright()
    {
        var film = Film(TiffFile.Sound(
            new TiffFile.Field(274, 3, 6), new TiffFile.Field(282, 5, 1016), new TiffFile.Field(283, 5, 508), new TiffFile.Field(296, 3, 2)));

        Assert.Equal((0.05, 0.025), (Math.Round(film.Spacing!.Value.PixelWidth.Value, 9, MidpointRounding.AwayFromZero), Math.Round(film.Spacing!.Value.PixelHeight.Value, 9, MidpointRounding.AwayFromZero)));
        Assert.Equal(["The picture was turned upright as the file asks."], film.Notices);
    }

    [Fact]
    public void Reads_the_first_of_several_pictures_with_a_notice()
    {
        var file = TiffFile.Sound();
        var directory = BitConverter.ToInt32(file, 4);
        var next = directory + 2 + (12 * BitConverter.ToUInt16(file, directory));
        BitConverter.TryWriteBytes(file.AsSpan(next), file.Length);

        Assert.Equal(["The file holds 2 pictures; the first was read."], Film([.. file, .. file[directory..(next + 4)]]).Notices);
    }

    [Theory]
    [InlineData(258, 1, "1 bits per value")]
    [InlineData(258, 12, "12 bits per value")]
    [InlineData(259, 7, "JPEG compression")]
    [InlineData(259, 4, "fax compression")]
    [InlineData(259, 34712, "JPEG 2000 compression")]
    [InlineData(259, 9999, "a compression that is not known (number 9999)")]
    [InlineData(262, 3, "a colour palette")]
    [InlineData(262, 5, "printing colours (CMYK)")]
    [InlineData(262, 6, "colour as YCbCr")]
    [InlineData(262, 77, "a kind of colour that is not known (number 77)")]
    [InlineData(277, 5, "5 channels")]
    [InlineData(339, 2, "signed or floating-point values")]
    [InlineData(266, 2, "bytes whose bits are in reverse order")]
    [InlineData(317, 3, "a floating-point predictor")]
    public void Refuses_other_kinds_of_TIFF_by_name(ushort tag, uint value, string kind) =>
        RefusesByName(TiffFile.Sound(new TiffFile.Field(tag, 3, value)), "TIFF", kind);

    [Fact]
    public void Refuses_BigTIFF_by_name() =>
        RefusesByName([.. "II+\0"u8, .. new byte[100]], "TIFF", "the form for files beyond 4 GB (BigTIFF)");

    [Fact]
    public void Refuses_damaged_files()
    {
        RefusesAsDamaged([.. "II*\0"u8], "TIFF", "its directory can't be read");
        RefusesAsDamaged([.. "II*\0"u8, 255, 255, 255, 127, .. new byte[50]], "TIFF", "its directory can't be read");
        RefusesAsDamaged(TiffFile.Sound()[..4150], "TIFF", "its directory can't be read");
        RefusesAsDamaged(
            TiffFile.Sound(new TiffFile.Field(273, 3, 0, Count: 3), new TiffFile.Field(279, 3, 4000, Count: 3), new TiffFile.Field(278, 3, 22)),
            "TIFF",
            "the parts of its picture lie over each other");
        RefusesAsDamaged(TiffFile.Sound(new TiffFile.Field(273, 4, 100_000)), "TIFF", "part 1 of 1 of its picture lies beyond the end of the file");
        RefusesAsDamaged(TiffFile.Sound(new TiffFile.Field(279, 4, uint.MaxValue)), "TIFF", "part 1 of 1 of its picture lies beyond the end of the file");
        RefusesAsDamaged(TiffFile.Sound(new TiffFile.Field(257, 0, 0)), "TIFF", "its width, height or colour kind is missing");
        RefusesAsDamaged(TiffFile.Sound(new TiffFile.Field(278, 4, 10)), "TIFF", "it needs 7 parts and lists 1");
        RefusesAsDamaged(TiffFile.Sound(new TiffFile.Field(278, 4, 0)), "TIFF", "the size of its strips or tiles is missing");
        RefusesAsDamaged(TiffFile.Sound(new TiffFile.Field(256, 4, 0)), "TIFF", "it states a picture of 0 × 64 pixels");
        RefusesAsDamaged(TiffFile.Sound(new TiffFile.Field(270, 5, 1), new TiffFile.Field(270, 5, 1)), "TIFF", "its directory can't be read");
    }

    [Fact]
    public void Refuses_a_header_that_claims_more_than_its_bytes_can_hold() =>
        RefusesAsDamaged(
            TiffFile.Of(7000, 7000, new byte[4096], new TiffFile.Field(259, 3, 8)),
            "TIFF",
            "it states 7000 × 7000 pixels, which its 4096 bytes of picture can't hold");

    // Pillow wrote the strip first; the last four bytes of zlib's are its checksum (RFC 1950).
    [Fact]
    public void Refuses_a_strip_whose_checksum_is_wrong()
    {
        var file = Seed("tiff_adobe_deflate.tif");
        file[1000] ^= 4;

        RefusesAsDamaged(file, "TIFF", "part 1 of 1 of its picture can't be unpacked");
    }

    // RFC 1950, 2.2: a dictionary may be agreed on beside the file; none is for TIFF.
    [Fact]
    public void Refuses_a_strip_packed_with_a_dictionary() =>
        RefusesAsDamaged(
            TiffFile.Of(64, 64, [0x78, 0xBB, 1, 2, 3, 4, .. PngFile.Pack(new byte[64 * 64])[2..]], new TiffFile.Field(259, 3, 8)),
            "TIFF",
            "part 1 of 1 of its picture can't be unpacked");

    [Theory]
    [InlineData("")]
    [InlineData("7F")]
    [InlineData("81")]
    [InlineData("80808005")]
    public void Refuses_PackBits_that_break_off(string end) =>
        RefusesAsDamaged(TiffFile.Of(64, 64, [0x80, 0x80, .. PackBits(31), .. Convert.FromHexString(end)], new TiffFile.Field(259, 3, 32773)), "TIFF", "part 1 of 1 of its picture can't be unpacked");

    // TIFF 6.0, section 9: n from −1 to −127 repeats the next byte 1 − n times, −128 does nothing.
    [Fact]
    public void Unpacks_the_longest_runs_of_PackBits()
    {
        var film = Film(TiffFile.Of(64, 64, [0x80, .. PackBits(32)], new TiffFile.Field(259, 3, 32773)));

        Assert.Equal(Enumerable.Range(0, 64 * 64).Select(i => (ushort)(i / 128)), film.Pixels.ToArray());
    }

    // TIFF 6.0, section 13: nine bits to a code at first; 256 clears the table, 257 ends, 258 is the first string.
    [Fact]
    public void Refuses_LZW_codes_that_do_not_exist_yet()
    {
        RefusesAsDamaged(TiffFile.Of(64, 64, Bits(9, [256, 7, 300], 40), new TiffFile.Field(259, 3, 5)), "TIFF", "part 1 of 1 of its picture can't be unpacked");
        RefusesAsDamaged(TiffFile.Of(64, 64, Bits(9, [256, 258], 40), new TiffFile.Field(259, 3, 5)), "TIFF", "part 1 of 1 of its picture can't be unpacked");
        RefusesAsDamaged(TiffFile.Of(64, 64, Bits(9, [256, 7, 8, 257], 40), new TiffFile.Field(259, 3, 5)), "TIFF", "part 1 of 1 of its picture can't be unpacked");
    }

    private static byte[] PackBits(int runs) => [.. Enumerable.Range(0, runs).SelectMany(run => new byte[] { 0x81, (byte)run })];

    private static byte[] Bits(int width, int[] codes, int length)
    {
        var bytes = new byte[length];
        for (var i = 0; i < codes.Length * width; i++)
        {
            var bit = (codes[i / width] >> (width - 1 - (i % width))) & 1;
            bytes[i / 8] |= (byte)(bit << (7 - (i % 8)));
        }

        return bytes;
    }
}
