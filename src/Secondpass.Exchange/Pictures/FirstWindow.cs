using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Pictures;

/// <summary>The window that a film is shown with before anybody moves it, on screens and on paper alike.</summary>
public static class FirstWindow
{
    /// <summary>The share of a film's pixels, at either end, that may lie beyond the window. Chosen by eye: a metal edge or a dark corner does not take the range from the teeth.</summary>
    private const double Tail = 0.001;

    /// <summary>The file's own window; else the whole depth, or, where the film uses little of it, the range that holds all but a thousandth of the pixels at either end.</summary>
    /// <param name="film">The film.</param>
    /// <returns>Grey values shown black and white; white is greater than black.</returns>
    public static GreyWindow Of(Radiograph film)
    {
        ArgumentNullException.ThrowIfNull(film);
        if (film.ShownWindow is { } window && window.White > window.Black)
        {
            return window;
        }

        var counts = new int[film.GreatestValue + 1];
        foreach (var value in film.Pixels)
        {
            counts[value]++;
        }

        var tail = film.Pixels.Length * Tail;
        var (black, white) = (At(tail), At(film.Pixels.Length - tail));
        return white - black > film.GreatestValue / 2 || white <= black ? new GreyWindow(0, film.GreatestValue) : new GreyWindow(black, white);

        int At(double rank)
        {
            var passed = 0;
            for (var value = 0; value < counts.Length; value++)
            {
                passed += counts[value];
                if (passed > rank)
                {
                    return value;
                }
            }

            return counts.Length - 1;
        }
    }
}
