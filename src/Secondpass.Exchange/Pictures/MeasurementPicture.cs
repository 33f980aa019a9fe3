using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Pictures;

/// <summary>Draws a measured film: the traced canals and their fillings on it, and a strip for each branch beside it.</summary>
public static class MeasurementPicture
{
    private const double FilmWidth = 460;
    private const double GreatestFilmHeight = 760;
    private const double CaptionSize = 13;

    /// <summary>The film with its canals, and the strips.</summary>
    /// <param name="film">The film that was measured.</param>
    /// <param name="canals">The traced trunks, with the branches below them.</param>
    /// <param name="scale">Scale of the film; null when unknown.</param>
    public static Picture Draw(Radiograph film, IReadOnlyList<TracedBranch> canals, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(film);
        ArgumentNullException.ThrowIfNull(canals);
        var branches = canals.SelectMany(canal => canal.SelfAndBelow()).ToList();
        var whole = FilmRegion.Whole(film.Width, film.Height);
        var marks = new List<PictureMark>();
        var panel = new FilmPanel(
            marks,
            "film-measured",
            FilmImage.Shown(film.Pixels, film.Width, whole, FirstWindow.Of(film), film.ShownCurve),
            whole,
            new PicturePoint(0, 0),
            Math.Min(FilmWidth, GreatestFilmHeight * film.Width / film.Height));
        panel.KeepFree(branches.SelectMany(branch => branch.Path.Points));
        panel.ScaleBar(scale);
        foreach (var branch in branches)
        {
            DrawBranch(panel, branch);
        }

        foreach (var branch in branches)
        {
            panel.Name(branch.Name, branch.Path.Points[^1]);
        }

        var caption = TextLayout.Wrap(
            $"Dotted: traced canal. Line on either side: edge of the filling. Bar: canal end. {char.ToUpperInvariant(FilmWords.Scale(scale)[0])}{FilmWords.Scale(scale)[1..]}.",
            CaptionSize,
            false,
            panel.Width);
        for (var i = 0; i < caption.Count; i++)
        {
            marks.Add(new TextMark("film-caption", new(0, panel.Height + 16 + (i * 17)), caption[i], CaptionSize));
        }

        var picture = new Picture("measurement", panel.Width, panel.Height + 6 + (caption.Count * 17), "Measured canals", string.Empty, marks);
        return PictureRows.Beside(picture, CanalStrip.DrawAll(branches, scale), CanalStrip.Width);
    }

    private static void DrawBranch(FilmPanel panel, TracedBranch branch)
    {
        var own = branch.Filling.Samples.Where(sample => sample.LevelPixels >= branch.OwnFromPixels).ToList();
        panel.Line(
            "film-path",
            branch.Path.Points.Zip(branch.Path.LevelsPixels).Where(place => place.Second >= branch.OwnFromPixels).Select(place => place.First).Prepend(branch.Path.At(branch.OwnFromPixels)),
            Ink.White,
            1.2,
            [1.5, 3.5]);
        foreach (var side in new[] { 1, -1 })
        {
            foreach (var run in Runs(own))
            {
                var edge = run.Select(sample => Edge(branch, sample, side)).ToList();
                panel.KeepFree(edge);
                panel.Line("film-filling-edge", edge, Ink.Blue, 1.2);
            }
        }

        panel.Tick("film-canal-end", branch.Path, branch.Path.LengthPixels, 8, Ink.White, 1.8);
    }

    private static IEnumerable<List<FillingSample>> Runs(List<FillingSample> samples)
    {
        var run = new List<FillingSample>();
        foreach (var sample in samples)
        {
            if (sample.FillingWidthPixels is not null)
            {
                run.Add(sample);
                continue;
            }

            if (run.Count > 1)
            {
                yield return run;
            }

            run = [];
        }

        if (run.Count > 1)
        {
            yield return run;
        }
    }

    private static PixelPoint Edge(TracedBranch branch, FillingSample sample, int side)
    {
        // y runs down, so left of the direction (x, y) is (y, −x).
        var direction = branch.Path.DirectionAt(sample.LevelPixels);
        var offset = sample.CentreOffsetPixels + (side * (sample.FillingWidthPixels?.Value ?? 0) / 2);
        return branch.Path.At(sample.LevelPixels) + (new PixelPoint(direction.Y, -direction.X) * offset);
    }
}
