using Secondpass.Domain.Films;
using static Secondpass.Tests.Radiographs.Read.Answers;

namespace Secondpass.Tests.Radiographs.Read;

// That the values are right is checked against other decoders in Secondpass.Outside; here it is what is said, and what is refused.
public sealed class JpegTests
{
    private const string BreaksOff = "its picture breaks off or holds codes that do not exist";

    [Fact]
    public void Always_says_that_the_film_was_compressed_with_loss()
    {
        var film = Film(Seed("grey.jpg"));

        Assert.Equal((70, 66, 255, FilmFormat.Jpeg), (film.Width, film.Height, film.GreatestValue, film.Format));
        Assert.Equal([LossyCompression], film.Notices);
        Assert.Null(film.Spacing);
    }

    [Fact]
    public void Turns_colour_into_luma_with_a_notice() =>
        Assert.Equal([ColourToGrey, LossyCompression], Film(Seed("rgb420.jpg")).Notices);

    [Fact]
    public void Keeps_the_depth_of_12_bits()
    {
        var film = Film(Seed("extended12.jpg"));

        Assert.Equal(4095, film.GreatestValue);
        Assert.True(film.Pixels.ToArray().Max() > 255);
    }

    [Fact]
    public void Turns_the_film_upright_as_Exif_asks()
    {
        var film = Film(Seed("turned.jpg"));

        Assert.Equal((66, 70), (film.Width, film.Height));
        Assert.Equal([LossyCompression, "The picture was turned upright as the file asks."], film.Notices);
    }

    [Fact]
    public void Says_when_the_film_was_mirrored()
    {
        var file = Seed("turned.jpg");
        file[OrientationAt(file)] = 4;

        Assert.Equal([LossyCompression, "The picture was mirrored as the file asks: check left and right."], Film(file).Notices);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(9)]
    [InlineData(200)]
    public void An_orientation_that_does_not_exist_changes_nothing(byte orientation)
    {
        var file = Seed("turned.jpg");
        file[OrientationAt(file)] = orientation;

        Assert.Equal((70, 66), (Film(file).Width, Film(file).Height));
    }

    // ITU-T T.871, 10.1: unit 0 is an aspect ratio, 1 the inch, 2 the centimetre.
    [Theory]
    [InlineData(1, 1016, 0.025)]
    [InlineData(2, 400, 0.025)]
    [InlineData(0, 1, null)]
    public void Reads_the_density_when_it_has_a_unit(byte unit, int density, double? millimetres)
    {
        var spacing = Film(WithDensity(unit, density)).Spacing;

        Assert.Equal(millimetres, spacing is { } stated ? Math.Round(stated.PixelWidth.Value, 9, MidpointRounding.AwayFromZero) : null);
        Assert.Equal(millimetres is null ? null : SpacingMeaning.Unstated, spacing?.Meaning);
    }

    [Fact]
    public void Ignores_a_density_of_zero_with_a_notice() =>
        Assert.Equal([LossyCompression, "The file states a resolution of zero; it was ignored."], Film(WithDensity(1, 0)).Notices);

    [Fact]
    public void Reads_a_film_coded_without_loss_and_says_nothing_of_loss()
    {
        var film = Film(Seed("lossless-rgb.jpg"));

        Assert.Equal((70, 66, 255), (film.Width, film.Height, film.GreatestValue));
        Assert.Equal([ColourToGrey], film.Notices);
    }

    // The lowest bit was left out before coding (ITU-T T.81, A.4), so values are not those of the sensor.
    [Fact]
    public void Says_that_a_lossless_film_lost_the_bits_that_were_left_out()
    {
        var film = Film(Seed("lossless12-restart.jpg"));

        Assert.Equal(4095, film.GreatestValue);
        Assert.Equal([LossyCompression], film.Notices);
        Assert.All(film.Pixels.ToArray(), value => Assert.Equal(0, value % 2));
    }

    [Fact]
    public void Refuses_damaged_films_coded_without_loss()
    {
        var file = Seed("lossless12-restart.jpg");
        var (scan, restart) = (At(file, 0xDA), At(file, 0xDD));

        RefusesAsDamaged(With(file, scan + 7, 0), "JPEG", "the header of a scan names a prediction that can't be");
        RefusesAsDamaged(With(file, scan + 7, 8), "JPEG", "the header of a scan names a prediction that can't be");
        RefusesAsDamaged(With(file, scan + 9, 12), "JPEG", "the header of a scan names a prediction that can't be");
        RefusesAsDamaged(With(file, restart + 5, 1), "JPEG", "its restart marks do not stand at the beginning of rows");
        RefusesAsDamaged([.. file[..^300], 0xFF, 0xD9], "JPEG", BreaksOff);
        RefusesAsDamaged(Without(file, 0xC4), "JPEG", "a scan needs a Huffman table that is missing");
        RefusesAsDamaged([.. file[..^2], .. file[scan..]], "JPEG", "its scans do not follow each other");
        RefusesAsDamaged(With(file, At(file, 0xC3) + 4, 10), "JPEG", "it holds values beyond its 10 bits");
        RefusesByName(With(file, At(file, 0xC3) + 4, 17), "JPEG", "17 bits per value");
        RefusesByName(With(Seed("lossless-rgb.jpg"), 2 + 11, 0x22), "JPEG", "lossless JPEG with colour channels of different size");
    }

    // One bit is the shortest code of a sample.
    [Fact]
    public void Refuses_a_lossless_header_that_claims_more_than_its_bytes_can_hold()
    {
        var file = Seed("lossless12-restart.jpg");
        var frame = At(file, 0xC3);
        (file[frame + 5], file[frame + 6], file[frame + 7], file[frame + 8]) = (0x10, 0, 0x10, 0);

        RefusesAsDamaged(file, "JPEG", $"it states 4096 × 4096 pixels, which its {file.Length - At(file, 0xDA) - 12} bytes of picture can't hold");
    }

    // ITU-T T.81, table B.1.
    [Theory]
    [InlineData(0xC5, "hierarchical JPEG")]
    [InlineData(0xC9, "JPEG with arithmetic coding")]
    [InlineData(0xCA, "JPEG with arithmetic coding")]
    [InlineData(0xCB, "lossless JPEG with arithmetic coding")]
    [InlineData(0xCD, "hierarchical JPEG with arithmetic coding")]
    [InlineData(0xF7, "JPEG-LS")]
    [InlineData(0xDE, "hierarchical JPEG")]
    [InlineData(0xCC, "JPEG with arithmetic coding")]
    [InlineData(0xDC, "a height that is stated only after the picture (DNL)")]
    public void Refuses_other_kinds_of_JPEG_by_name(byte marker, string kind)
    {
        var file = Seed("grey.jpg");
        file[FrameAt(file) + 1] = marker;

        RefusesByName(file, "JPEG", kind);
    }

    [Fact]
    public void Refuses_what_a_frame_header_may_state_but_is_not_read()
    {
        RefusesByName(WithFrameByte(4, 16), "JPEG", "16 bits per value");
        RefusesByName(WithFrameByte(4, 12), "JPEG", "12 bits per value");
        RefusesByName(WithFrameByte(9, 0), "JPEG", "0 colour channels");
        RefusesByName(WithFrameByte(6, 0), "JPEG", "a height that is stated only after the picture (DNL)");
    }

    [Fact]
    public void Refuses_a_header_that_claims_more_than_its_bytes_can_hold() =>
        RefusesAsDamaged(WithSize(7000, 7000), "JPEG", "it states 7000 × 7000 pixels, which its 964 bytes of picture can't hold");

    [Fact]
    public void Refuses_a_larger_picture_than_was_coded() => RefusesAsDamaged(WithSize(80, 80), "JPEG", BreaksOff);

    [Theory]
    [InlineData("grey.jpg")]
    [InlineData("progressive.jpg")]
    [InlineData("restart.jpg")]
    [InlineData("rgb420.jpg")]
    public void Refuses_a_film_whose_picture_breaks_off(string name)
    {
        var file = Seed(name);

        RefusesAsDamaged(file[..^2], "JPEG", $"it ends after {file.Length - 2} bytes without its end mark");
        RefusesAsDamaged([.. file[..^60], 0xFF, 0xD9], "JPEG", BreaksOff);
    }

    [Fact]
    public void Refuses_a_restart_mark_out_of_order()
    {
        var file = Seed("restart.jpg");
        var mark = file.AsSpan().IndexOf((ReadOnlySpan<byte>)[0xFF, 0xD1]);
        file[mark + 1] = 0xD2;

        RefusesAsDamaged(file, "JPEG", BreaksOff);
    }

    [Fact]
    public void Refuses_a_progressive_film_with_a_scan_missing()
    {
        var file = Seed("progressive.jpg");
        var lastScan = file.AsSpan().LastIndexOf((ReadOnlySpan<byte>)[0xFF, 0xDA]);

        RefusesAsDamaged([.. file[..lastScan], 0xFF, 0xD9], "JPEG", "it holds only a part of its picture");
    }

    [Fact]
    public void Refuses_a_scan_that_comes_twice()
    {
        var file = Seed("grey.jpg");
        var scan = file.AsSpan().LastIndexOf((ReadOnlySpan<byte>)[0xFF, 0xDA]);

        RefusesAsDamaged([.. file[..^2], .. file[scan..]], "JPEG", "its scans do not follow each other");
    }

    [Fact]
    public void Refuses_files_whose_parts_are_missing()
    {
        var file = Seed("grey.jpg");

        RefusesAsDamaged([.. file[..FrameAt(file)], 0xFF, 0xD9], "JPEG", "it holds no picture");
        RefusesAsDamaged(Without(file, 0xDB), "JPEG", "a scan needs a quantization table that is missing");
        RefusesAsDamaged(Without(file, 0xC4), "JPEG", "a scan needs a Huffman table that is missing");
        RefusesAsDamaged(Without(file, 0xC0), "JPEG", "its picture comes before its header");
        RefusesAsDamaged([.. file[..2], .. file[2..FrameAt(file)], .. file[FrameAt(file)..(FrameAt(file) + 13)], .. file[FrameAt(file)..]], "JPEG", "it has two headers");
    }

    [Fact]
    public void Refuses_parts_that_can_not_be()
    {
        var file = Seed("grey.jpg");
        var tables = At(file, 0xC4);
        RefusesAsDamaged(With(file, tables + 5, 3), "JPEG", "a Huffman table is not one");
        RefusesAsDamaged(With(file, tables + 4, 0x55), "JPEG", "a Huffman table is not one");
        RefusesAsDamaged(With(file, At(file, 0xDB) + 4, 0x22), "JPEG", "a quantization table is incomplete");
        RefusesAsDamaged(With(file, At(file, 0xDB) + 2, 0xFF), "JPEG", $"its part FFDB states {0xFF43} bytes, but only {file.Length - At(file, 0xDB) - 2} follow");
        RefusesAsDamaged(With(file, At(file, 0xDA) + 5, 99), "JPEG", "a scan names a colour channel that is not there");
        RefusesAsDamaged(With(file, At(file, 0xDA) + 4, 2), "JPEG", "the header of a scan is incomplete");
        RefusesAsDamaged(With(file, FrameAt(file) + 11, 0x50), "JPEG", "its frame header names colour channels that can't be");
    }

    // Coefficients are numbered 0 to 63; a larger number must never reach the block.
    [Theory]
    [InlineData(5, 64)]
    [InlineData(5, 255)]
    [InlineData(0, 5)]
    [InlineData(9, 3)]
    public void Refuses_a_scan_of_coefficients_that_do_not_exist(byte first, byte last)
    {
        var file = Seed("progressive.jpg");
        var scan = file.AsSpan().LastIndexOf((ReadOnlySpan<byte>)[0xFF, 0xDA]);

        RefusesAsDamaged(With(With(file, scan + 7, first), scan + 8, last), "JPEG", "the header of a scan names coefficients that can't be");
    }

    [Fact]
    public void Ignores_what_follows_the_end_mark() =>
        Assert.Equal(Film(Seed("grey.jpg")).Pixels.ToArray(), Film([.. Seed("grey.jpg"), 1, 2, 3, 0xFF, 0xD8, 0xFF]).Pixels.ToArray());

    private static int At(byte[] file, byte marker)
    {
        for (var at = 2; ; at += 2 + (file[at + 2] << 8) + file[at + 3])
        {
            if (file[at + 1] == marker)
            {
                return at;
            }
        }
    }

    private static int FrameAt(byte[] file) => At(file, 0xC0);

    private static byte[] With(byte[] file, int at, byte value)
    {
        var changed = (byte[])file.Clone();
        changed[at] = value;
        return changed;
    }

    private static byte[] WithFrameByte(int offset, byte value)
    {
        var file = Seed("grey.jpg");
        return With(file, FrameAt(file) + offset, value);
    }

    private static byte[] WithSize(int width, int height)
    {
        var file = Seed("grey.jpg");
        var frame = FrameAt(file);
        (file[frame + 5], file[frame + 6], file[frame + 7], file[frame + 8]) = ((byte)(height >> 8), (byte)height, (byte)(width >> 8), (byte)width);
        return file;
    }

    private static byte[] WithDensity(byte unit, int density)
    {
        var file = Seed("grey.jpg");
        var jfif = At(file, 0xE0);
        (file[jfif + 11], file[jfif + 12], file[jfif + 13], file[jfif + 14], file[jfif + 15]) =
            (unit, (byte)(density >> 8), (byte)density, (byte)(density >> 8), (byte)density);
        return file;
    }

    private static byte[] Without(byte[] file, byte marker)
    {
        while (file.AsSpan(0, file.AsSpan().IndexOf((ReadOnlySpan<byte>)[0xFF, 0xDA])).IndexOf((ReadOnlySpan<byte>)[0xFF, marker]) is var at and >= 0)
        {
            file = [.. file[..at], .. file[(at + 2 + (file[at + 2] << 8) + file[at + 3])..]];
        }

        return file;
    }

    // The value of Exif's only field, tag 274, type SHORT, count 1.
    private static int OrientationAt(byte[] file)
    {
        var big = file.AsSpan().IndexOf((ReadOnlySpan<byte>)[0x01, 0x12, 0, 3, 0, 0, 0, 1]);
        return big >= 0 ? big + 9 : file.AsSpan().IndexOf((ReadOnlySpan<byte>)[0x12, 0x01, 3, 0, 1, 0, 0, 0]) + 8;
    }
}
