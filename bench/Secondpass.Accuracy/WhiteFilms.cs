using Secondpass.Domain.Films;

namespace Secondpass.Accuracy;

/// <summary>Films whose grey scale was spread until the brightest filling is cut off to white, as sensors' programs do.</summary>
internal static class WhiteFilms
{
    /// <summary>Cuts both films of a pair off, so that as many pixels are white on the one as on the other.</summary>
    /// <param name="pair">The pair.</param>
    /// <param name="share">How much of the first filling's contrast is lost in white, 0 to 1.</param>
    public static KnownPair Of(KnownPair pair, double share)
    {
        var film = pair.Request.Before;
        var path = pair.Branches[0].Path;
        var middle = path.At(0.4 * path.LengthPixels);
        var across = Enumerable.Range(-30, 61)
            .Select(offset => film.Pixels[((int)middle.Y * film.Width) + Math.Clamp((int)middle.X + offset, 0, film.Width - 1)] / (double)film.GreatestValue)
            .Order()
            .ToArray();
        var limit = across[^1] - (share * (across[^1] - across[across.Length / 3]));
        var white = film.Pixels.ToArray().Count(pixel => pixel > limit * film.GreatestValue) / (double)film.Pixels.Length;
        var after = pair.Request.After;
        var limitAfter = after.Pixels.ToArray().Order().ElementAt((int)((1 - white) * (after.Pixels.Length - 1))) / (double)after.GreatestValue;
        return pair with { Request = pair.Request with { Before = Cut(film, limit), After = Cut(after, limitAfter) } };
    }

    private static Radiograph Cut(Radiograph film, double limit)
    {
        var pixels = new ushort[film.Width * film.Height];
        for (var i = 0; i < pixels.Length; i++)
        {
            pixels[i] = (ushort)Math.Round(Math.Min(film.Pixels[i] / (double)film.GreatestValue, limit) / limit * film.GreatestValue, MidpointRounding.AwayFromZero);
        }

        return new Radiograph(film.Width, film.Height, pixels, film.GreatestValue, FilmFormat.Simulated, film.Sha256);
    }
}
