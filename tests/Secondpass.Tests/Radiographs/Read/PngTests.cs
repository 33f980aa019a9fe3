using System.Buffers.Binary;
using CsCheck;
using Secondpass.Domain.Films;
using static Secondpass.Tests.Radiographs.Read.Answers;

namespace Secondpass.Tests.Radiographs.Read;

public sealed class PngTests
{
    [Fact]
    public void Keeps_every_grey_value_of_16_bits()
    {
        var rows = new byte[64 * 129];
        for (var i = 0; i < 64 * 64; i++)
        {
            BinaryPrimitives.WriteUInt16BigEndian(rows.AsSpan((i / 64 * 129) + 1 + (i % 64 * 2)), (ushort)(i * 16));
        }

        var film = Film(PngFile.Of(64, 64, rows, depth: 16));

        Assert.Equal((64, 64, 65535, FilmFormat.Png), (film.Width, film.Height, film.GreatestValue, film.Format));
        Assert.Equal(Enumerable.Range(0, 64 * 64).Select(i => (ushort)(i * 16)), film.Pixels.ToArray());
        Assert.Empty(film.Notices);
    }

    // ISO/IEC 15948, 9.2: the filter of each row changes how it is packed and nothing else.
    [Fact]
    public void Every_row_filter_gives_back_the_row_that_was_filtered() =>
        Gen.Select(Gen.Byte.Array[64 * 64], Gen.Int[0, 4].Array[64]).Sample(
            (values, filters) =>
            {
                values[0] = 0;
                values[1] = 255;
                var film = Film(PngFile.Of(64, 64, Filtered(values, filters)));
                return film.Pixels.ToArray().Select(value => (byte)value).SequenceEqual(values);
            },
            iter: 50);

    [Fact]
    public void Knows_the_file_by_its_SHA_256()
    {
        var file = PngFile.Sound();

        // sha256sum of the same bytes, by the framework.
        Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(file)), Film(file).Sha256);
    }

    // Recommendation ITU-R BT.709-6: 0.2126 R + 0.7152 G + 0.0722 B.
    [Theory]
    [InlineData(255, 0, 0, 54)]
    [InlineData(0, 255, 0, 182)]
    [InlineData(0, 0, 255, 18)]
    [InlineData(255, 255, 255, 255)]
    [InlineData(77, 77, 77, 77)]
    [InlineData(10, 200, 90, 152)]
    public void Turns_colour_into_luma_with_a_notice(byte red, byte green, byte blue, int luma)
    {
        var rows = new byte[64 * (1 + (64 * 3))];
        (rows[1], rows[2], rows[3]) = (red, green, blue);
        (rows[4], rows[5], rows[6]) = (1, 2, 3);

        var film = Film(PngFile.Of(64, 64, rows, colourType: 2));

        Assert.Equal(luma, film.At(0, 0));
        Assert.Equal(255, film.GreatestValue);
        Assert.Equal([ColourToGrey], film.Notices);
    }

    [Fact]
    public void A_colour_file_of_greys_loses_nothing_and_says_so()
    {
        var rows = new byte[64 * (1 + (64 * 3))];
        (rows[1], rows[2], rows[3]) = (200, 200, 200);

        var film = Film(PngFile.Of(64, 64, rows, colourType: 2));

        Assert.Equal(200, film.At(0, 0));
        Assert.Equal([ColourButGrey], film.Notices);
    }

    [Fact]
    public void Looks_colours_up_in_the_palette()
    {
        var rows = new byte[64 * 17];
        rows[1] = 0b00_01_10_11;
        byte[] palette = [10, 10, 10, 50, 50, 50, 100, 100, 100, 255, 0, 0];

        var film = Film(PngFile.Of(64, 64, rows, depth: 2, colourType: 3, PngFile.Block("PLTE", palette)));

        Assert.Equal([10, 50, 100, 54, 10], film.Pixels[..5].ToArray());
        Assert.Equal(255, film.GreatestValue);
        Assert.Equal([ColourToGrey], film.Notices);
    }

    [Fact]
    public void Ignores_transparency_with_a_notice()
    {
        var rows = new byte[64 * 129];
        (rows[1], rows[2]) = (99, 0);

        var film = Film(PngFile.Of(64, 64, rows, colourType: 4));

        Assert.Equal(99, film.At(0, 0));
        Assert.Equal([TransparencyIgnored], film.Notices);
        Assert.Equal([TransparencyIgnored], Film(PngFile.Sound(blocks: PngFile.Block("tRNS", [0, 5]))).Notices);
    }

    [Fact]
    public void Ignores_an_animation_with_a_notice() =>
        Assert.Equal(
            ["The file holds an animation; only its still picture was read."],
            Film(PngFile.Sound(blocks: PngFile.Block("acTL", new byte[8]))).Notices);

    [Fact]
    public void Reads_the_pixel_size_when_its_unit_is_the_metre()
    {
        // 40000 pixels per metre are 0.025 mm each.
        var spacing = Film(PngFile.Sound(blocks: PngFile.PhysicalSize(40_000, 20_000, 1))).Spacing!.Value;

        Assert.Equal((0.025, 0.05, SpacingMeaning.Unstated), (spacing.PixelWidth.Value, spacing.PixelHeight.Value, spacing.Meaning));
        Assert.Null(Film(PngFile.Sound(blocks: PngFile.PhysicalSize(40_000, 40_000, 0))).Spacing);
        Assert.Null(Film(PngFile.Sound()).Spacing);
    }

    [Fact]
    public void Ignores_a_pixel_size_of_zero_with_a_notice()
    {
        var film = Film(PngFile.Sound(blocks: PngFile.PhysicalSize(0, 0, 1)));

        Assert.Null(film.Spacing);
        Assert.Equal(["The file states a resolution of zero; it was ignored."], film.Notices);
    }

    [Fact]
    public void Passes_over_blocks_that_it_need_not_understand() =>
        Assert.Empty(Film(PngFile.Sound(blocks: PngFile.Block("teXt", [1, 2, 3]))).Notices);

    [Fact]
    public void Refuses_a_wrong_checksum()
    {
        var file = PngFile.Sound();
        file[70] ^= 1;

        RefusesAsDamaged(file, "PNG", "the checksum of its block IDAT at byte 33 is wrong");
    }

    [Fact]
    public void Refuses_a_file_that_was_cut_short()
    {
        var file = PngFile.Sound();

        RefusesAsDamaged(file[..^12], "PNG", $"it ends after {file.Length - 12} bytes without its end mark");
        RefusesAsDamaged(file[..100], "PNG", $"its block IDAT states {file.Length - 57} bytes, but only 55 follow");
    }

    [Fact]
    public void Refuses_missing_and_extra_rows()
    {
        RefusesAsDamaged(PngFile.Of(64, 64, PngFile.Rows(64, 40)), "PNG", "its picture ends in row 41 of 64");
        RefusesAsDamaged(PngFile.Of(64, 64, PngFile.Rows(64, 65)), "PNG", "its picture goes on after the last row");
    }

    [Fact]
    public void Refuses_what_zlib_can_not_unpack() =>
        RefusesAsDamaged(
            PngFile.Join(PngFile.Header(64, 64), PngFile.Block("IDAT", new byte[500]), PngFile.Block("IEND", [])),
            "PNG",
            "its compressed picture can't be unpacked");

    // RFC 1950, 2.2: a dictionary may be agreed on beside the file; none is for PNG. It once left the reader as an exception.
    [Fact]
    public void Refuses_a_picture_packed_with_a_dictionary() =>
        RefusesAsDamaged(
            PngFile.Join(PngFile.Header(64, 64), PngFile.Block("IDAT", [0x78, 0xBB, 1, 2, 3, 4, .. PngFile.Pack(PngFile.Rows(64, 64))[2..]]), PngFile.Block("IEND", [])),
            "PNG",
            "its compressed picture can't be unpacked");

    [Fact]
    public void Refuses_a_wrong_checksum_of_the_unpacked_picture()
    {
        var packed = PngFile.Pack(PngFile.Rows(64, 64));
        packed[^1] ^= 1;

        RefusesAsDamaged(
            PngFile.Join(PngFile.Header(64, 64), PngFile.Block("IDAT", packed), PngFile.Block("IEND", [])),
            "PNG",
            "its compressed picture can't be unpacked");
    }

    [Fact]
    public void Refuses_headers_that_can_not_be()
    {
        var picture = PngFile.Block("IDAT", PngFile.Pack(PngFile.Rows(64, 64)));

        RefusesAsDamaged(PngFile.Join(PngFile.Header(64, 64, depth: 3), picture), "PNG", "colour type 0 with 3 bits does not exist");
        RefusesAsDamaged(PngFile.Join(PngFile.Header(64, 64, depth: 4, colourType: 2), picture), "PNG", "colour type 2 with 4 bits does not exist");
        RefusesAsDamaged(PngFile.Join(PngFile.Header(64, 64, interlace: 2), picture), "PNG", "its compression, filter or interlace method (0, 0, 2) does not exist");
        RefusesAsDamaged(PngFile.Join(PngFile.Header(0, 64), picture), "PNG", "it states a picture of 0 × 64 pixels");
        RefusesAsDamaged(PngFile.Join(picture, PngFile.Header(64, 64)), "PNG", "it does not begin with its header");
        RefusesAsDamaged(PngFile.Of(64, 64, PngFile.Rows(64, 64), colourType: 3), "PNG", "it needs a palette and has none");
        RefusesAsDamaged(PngFile.Sound(blocks: PngFile.Block("PLTE", [1, 2])), "PNG", "its palette of 2 bytes is not one");
        RefusesAsDamaged(PngFile.Sound(blocks: PngFile.Block("NEWs", [1, 2])), "PNG", "its block NEWs must be understood but is not known or stands in the wrong place");
        RefusesAsDamaged(PngFile.Join(PngFile.Header(64, 64), new byte[16]), "PNG", "at byte 33 there is no block where one should begin");
    }

    [Fact]
    public void Refuses_a_filter_and_a_colour_that_do_not_exist()
    {
        var rows = PngFile.Rows(64, 64);
        rows[65] = 5;
        RefusesAsDamaged(PngFile.Of(64, 64, rows), "PNG", "row 2 uses filter 5, which does not exist");

        RefusesAsDamaged(
            PngFile.Of(64, 64, PngFile.Rows(64, 64), 8, 3, PngFile.Block("PLTE", [1, 2, 3])),
            "PNG",
            "row 1 names a colour that is not in its palette of 1");
    }

    [Fact]
    public void Refuses_a_header_that_claims_more_than_its_bytes_can_hold()
    {
        var packed = PngFile.Pack(PngFile.Rows(64, 64));

        RefusesAsDamaged(
            PngFile.Join(PngFile.Header(7000, 7000), PngFile.Block("IDAT", packed), PngFile.Block("IEND", [])),
            "PNG",
            $"it states 7000 × 7000 pixels, which its {packed.Length} bytes of picture can't hold");
    }

    private static byte[] Filtered(byte[] values, int[] filters)
    {
        var rows = new byte[64 * 65];
        for (var y = 0; y < 64; y++)
        {
            rows[y * 65] = (byte)filters[y];
            for (var x = 0; x < 64; x++)
            {
                int left = x == 0 ? 0 : values[(64 * y) + x - 1];
                int above = y == 0 ? 0 : values[(64 * (y - 1)) + x];
                int corner = x == 0 || y == 0 ? 0 : values[(64 * (y - 1)) + x - 1];
                var nearest = new[] { left, above, corner }.MinBy(candidate => Math.Abs(left + above - corner - candidate));
                var predicted = filters[y] switch { 0 => 0, 1 => left, 2 => above, 3 => (left + above) / 2, _ => nearest };
                rows[(y * 65) + 1 + x] = (byte)(values[(64 * y) + x] - predicted);
            }
        }

        return rows;
    }
}
