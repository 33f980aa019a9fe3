using System.Buffers.Binary;
using Secondpass.Domain.Films;
using static Secondpass.Tests.Radiographs.Read.Answers;

namespace Secondpass.Tests.Radiographs.Read;

// That the values are right is checked against other decoders in Secondpass.Outside; here it is what is said, and what is refused.
public sealed class BmpTests
{
    private const int DepthAt = 28, PackingAt = 30, ResolutionAt = 38, PaletteCountAt = 46;

    [Fact]
    public void Keeps_the_greys_of_a_palette_of_greys_and_says_nothing()
    {
        var film = Film(Seed("grey8.bmp"));

        Assert.Equal((70, 66, 255, FilmFormat.Bmp), (film.Width, film.Height, film.GreatestValue, film.Format));
        Assert.Equal(Film(Seed("grey8.png")).Pixels.ToArray(), film.Pixels.ToArray());
        Assert.Empty(film.Notices);
        Assert.Null(film.Spacing);
    }

    [Fact]
    public void Turns_colour_into_luma_with_a_notice()
    {
        Assert.Equal([ColourToGrey], Film(Seed("rgb24.bmp")).Notices);
        Assert.Equal([ColourToGrey, TransparencyIgnored], Film(Seed("rgba32.bmp")).Notices);
        Assert.Equal([ColourToGrey], Film(Seed("palette4.bmp")).Notices);
    }

    // The height is negative where the first row stored is the top one.
    [Fact]
    public void Reads_both_orders_of_rows()
    {
        var film = Film(Seed("grey8.bmp"));
        var turned = Film(With(Seed("grey8.bmp"), 22, -66));

        Assert.Equal(film.Pixels[^70..].ToArray(), turned.Pixels[..70].ToArray());
        Assert.NotEqual(film.Pixels.ToArray(), turned.Pixels.ToArray());
    }

    [Theory]
    [InlineData(40_000, 40_000, 0.025, null)]
    [InlineData(0, 0, null, null)]
    [InlineData(-1, 40_000, null, "The file states a resolution of zero; it was ignored.")]
    public void Reads_the_resolution_per_metre(int x, int y, double? millimetres, string? notice)
    {
        var film = Film(With(With(Seed("grey8.bmp"), ResolutionAt, x), ResolutionAt + 4, y));

        Assert.Equal(millimetres, film.Spacing is { } spacing ? Math.Round(spacing.PixelWidth.Value, 9, MidpointRounding.AwayFromZero) : null);
        Assert.Equal(notice is null ? [] : [notice], film.Notices);
    }

    [Theory]
    [InlineData(DepthAt, 2, "2 bits per pixel")]
    [InlineData(DepthAt, 16, "16 bits per pixel")]
    [InlineData(PackingAt, 1, "run-length compression")]
    [InlineData(PackingAt, 2, "run-length compression")]
    [InlineData(PackingAt, 3, "colours in unusual places")]
    [InlineData(PackingAt, 4, "JPEG inside")]
    [InlineData(PackingAt, 5, "PNG inside")]
    [InlineData(PackingAt, 9, "a compression that is not known (number 9)")]
    [InlineData(14, 16, "a header of another system (OS/2)")]
    public void Refuses_other_kinds_of_BMP_by_name(int at, byte value, string kind)
    {
        var file = Seed("grey8.bmp");
        file[at] = value;

        RefusesByName(file, "BMP", kind);
    }

    [Fact]
    public void Refuses_damaged_files()
    {
        var file = Seed("grey8.bmp");
        RefusesAsDamaged(file[..^1], "BMP", "its 70 × 66 pixels need 4752 bytes and it holds 4751");
        RefusesAsDamaged(file[..40], "BMP", "it ends after 40 bytes, within its header");
        RefusesAsDamaged(With(file, 10, 60), "BMP", "its picture begins within its header");
        RefusesAsDamaged(With(file, 10, -1), "BMP", "its 70 × 66 pixels need 4752 bytes and it holds 0");
        RefusesAsDamaged(With(file, 18, -70), "BMP", "it states a picture of -70 × 66 pixels");
        RefusesAsDamaged(With(file, PaletteCountAt, 3), "BMP", "row 1 names a colour that is not in its palette of 3");
        Assert.Equal("film_too_large", Refused(With(file, 22, int.MinValue)).Code);
    }

    // Two letters begin many files; a text that begins with them is no picture.
    [Fact]
    public void A_text_that_begins_with_BM_is_a_text() =>
        Assert.Equal("This file is not a film that can be read: it looks like a text.", Refused([.. "BM is what this sentence begins with, and goes on."u8]).Reason);

    private static byte[] With(byte[] file, int at, int value)
    {
        var changed = (byte[])file.Clone();
        BinaryPrimitives.WriteInt32LittleEndian(changed.AsSpan(at), value);
        return changed;
    }
}
