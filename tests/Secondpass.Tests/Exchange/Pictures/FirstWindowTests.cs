using Secondpass.Domain.Films;
using Secondpass.Exchange.Pictures;

namespace Secondpass.Tests.Exchange.Pictures;

public sealed class FirstWindowTests
{
    [Fact]
    public void Is_the_one_that_the_file_asks_for()
    {
        Assert.Equal(new GreyWindow(100, 300), FirstWindow.Of(Film([100, 200, 300, 400], 65535, new GreyWindow(100, 300))));
    }

    [Fact]
    public void Holds_all_but_a_thousandth_at_either_end_of_a_film_that_uses_little_of_its_depth()
    {
        var window = FirstWindow.Of(Film([.. Enumerable.Range(0, 10_000).Select(value => (ushort)(20_000 + value))], 65535));

        Assert.Equal(new GreyWindow(20_010, 29_990), window);
    }

    [Fact]
    public void Is_not_drawn_out_by_a_few_bright_and_dark_pixels()
    {
        var pixels = Enumerable.Range(0, 10_000).Select(value => (ushort)(20_000 + (value / 10))).ToArray();
        (pixels[0], pixels[9_999]) = (0, 65535);

        var window = FirstWindow.Of(Film(pixels, 65535));

        Assert.InRange(window.Black, 20_000, 20_001);
        Assert.InRange(window.White, 20_998, 20_999);
    }

    [Fact]
    public void Is_the_whole_depth_of_a_film_that_uses_most_of_it()
    {
        Assert.Equal(new GreyWindow(0, 255), FirstWindow.Of(Film([.. Enumerable.Range(0, 2_000).Select(value => (ushort)(40 + (value % 180)))], 255)));
    }

    [Fact]
    public void Is_the_whole_depth_of_a_film_of_one_grey_or_whose_own_window_is_empty()
    {
        Assert.Equal(new GreyWindow(0, 4095), FirstWindow.Of(Film(new ushort[100], 4095)));
        Assert.Equal(new GreyWindow(0, 4095), FirstWindow.Of(Film(new ushort[100], 4095, new GreyWindow(70, 70))));
    }

    private static Radiograph Film(ushort[] pixels, int greatest, GreyWindow? window = null) =>
        new(pixels.Length, 1, pixels, greatest, FilmFormat.Simulated, new string('0', 64), shownWindow: window);
}
