using Secondpass.Domain.Films;
using Secondpass.Exchange.Pictures;

namespace Secondpass.Tests.Exchange.Pictures;

public sealed class FilmImageTests
{
    [Fact]
    public void Shows_a_film_through_a_window()
    {
        Assert.Equal([0, 128, 255, 255], FilmImage.Shown([100, 200, 300, 400], 2, FilmRegion.Whole(2, 2), new GreyWindow(100, 300)).Pixels.ToArray());
    }

    [Fact]
    public void Shows_a_part_of_a_film()
    {
        var film = Film([.. Enumerable.Range(0, 12).Select(value => (ushort)value)], 4, 3, new GreyWindow(0, 255));

        Assert.Equal([5, 6, 9, 10], FilmImage.Shown(film.Pixels, 4, new FilmRegion(1, 1, 2, 2), new GreyWindow(0, 255)).Pixels.ToArray());
    }

    [Fact]
    public void Averages_a_film_with_more_pixels_than_paper_shows()
    {
        var film = Film([.. Enumerable.Range(0, 3000 * 3).Select(place => (ushort)(place % 3 * 100))], 3000, 3, null);

        var shown = FilmImage.Shown(film.Pixels, 3000, FilmRegion.Whole(3000, 3), new GreyWindow(0, 200));

        Assert.Equal(1000, shown.Width);
        Assert.All(shown.Pixels.ToArray(), grey => Assert.Equal(128, grey));
    }

    [Fact]
    public void Shows_a_film_of_a_single_row()
    {
        var film = Film(new ushort[5000], 5000, 1, null);

        Assert.Equal(5000, FilmImage.Shown(film.Pixels, 5000, FilmRegion.Whole(5000, 1), new GreyWindow(0, 1)).Width);
    }

    [Fact]
    public void Shows_the_shades_of_the_curve_that_a_file_asks_for()
    {
        byte[] shades = [0, 200, 250, 255];

        Assert.Equal([0, 200, 250, 255], FilmImage.Shown([0, 1, 2, 3], 2, FilmRegion.Whole(2, 2), new GreyWindow(0, 3), new GreyCurve(shades)).Pixels.ToArray());
    }

    private static Radiograph Film(ushort[] pixels, int width, int height, GreyWindow? window) =>
        new(width, height, pixels, 65535, FilmFormat.Simulated, new string('0', 64), shownWindow: window);
}
