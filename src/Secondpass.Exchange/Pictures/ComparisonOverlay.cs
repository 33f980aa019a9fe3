using System.Globalization;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Pictures;

/// <summary>Draws both films and what is left: the film before, the film after laid over it, and the canals enlarged with the filling before outlined and what remains hatched.</summary>
public static class ComparisonOverlay
{
    /// <summary>Width of the picture, in its units.</summary>
    public const double Width = 960;

    /// <summary>What the picture is higher than its films: captions and legend.</summary>
    internal const double HeightBelowFilms = 44;

    private const double Gap = 12;
    private const double Slot = (Width - (2 * Gap)) / 3;
    private const double GreatestPanelHeight = 520;
    private const double CaptionSize = 13;
    private const double LegendHeight = 16;
    private const double DensePitch = 4.5;
    private const double SparsePitch = 11;

    private static readonly double[] RefusedDashes = [2, 4];

    /// <summary>The three films side by side with captions and a legend.</summary>
    /// <param name="request">The films that were compared, and their scale.</param>
    /// <param name="comparison">What was found.</param>
    public static Picture Draw(ComparisonRequest request, Comparison comparison) => Draw(request, comparison, GreatestPanelHeight);

    /// <summary>The films, and below them a strip for each branch: for a file of its own.</summary>
    /// <param name="request">The films that were compared, and their scale.</param>
    /// <param name="comparison">What was found.</param>
    public static Picture DrawWithStrips(ComparisonRequest request, Comparison comparison)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(comparison);
        return PictureRows.Below(
            Draw(request, comparison),
            [.. CanalStrip.DrawAll(comparison.Branches, request.BeforeScale), CanalStrip.Legend()]);
    }

    /// <summary>As <see cref="Draw(ComparisonRequest, Comparison)"/>, with lower films where the page is short.</summary>
    internal static Picture Draw(ComparisonRequest request, Comparison comparison, double greatestPanelHeight)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(comparison);
        var before = request.Before;
        var whole = FilmRegion.Whole(before.Width, before.Height);
        var close = Close(comparison, before.Width, before.Height);
        var window = FilmImage.WindowFor(before);
        var panelWidth = Math.Min(Slot, greatestPanelHeight * before.Width / before.Height);

        var marks = new List<PictureMark>();
        var first = new FilmPanel(marks, "film-before", FilmImage.Shown(before.Pixels, before.Width, whole, window), whole, At(0), panelWidth);
        var second = new FilmPanel(marks, "film-after", FilmImage.Shown(comparison.Picture.AlignedAfter, before.Width, whole, window), whole, At(1), panelWidth);
        var third = new FilmPanel(marks, "film-residue", FilmImage.Shown(comparison.Picture.AlignedAfter, before.Width, close, window, 0.05, 0.65), close, At(2), panelWidth);
        foreach (var panel in new[] { first, second, third })
        {
            panel.KeepFree(comparison.Branches.SelectMany(residue => residue.Branch.Path.Points));
            panel.ScaleBar(request.BeforeScale);
        }

        DrawClasses(third, comparison);
        DrawBranches(third, comparison);

        var enlarged = (double)before.Width / close.Width;
        DrawCaption(marks, 0, first.Height, "Film before");
        DrawCaption(marks, 1, first.Height, "Film after, laid over the film before");
        DrawCaption(marks, 2, first.Height, enlarged >= 1.05
            ? string.Create(CultureInfo.InvariantCulture, $"What is left, enlarged ×{enlarged:0.0}")
            : "What is left");
        DrawLegend(marks, first.Height + HeightBelowFilms - LegendHeight - 2, comparison.Branches.Any(residue => residue.Refused is not null));

        return new Picture(
            "comparison-overlay",
            Width,
            first.Height + HeightBelowFilms,
            "Both films and what is left",
            string.Join(" ", comparison.Branches.Select(residue => ResidueWords.Headline(residue, request.BeforeScale).TrimEnd('.') + ".")),
            marks);

        PicturePoint At(int slot) => new((slot * (Slot + Gap)) + ((Slot - panelWidth) / 2), 0);
    }

    private static void DrawClasses(FilmPanel panel, Comparison comparison)
    {
        var picture = comparison.Picture;
        var unclear = Rings(ResidueClass.Unclear);
        var left = Rings(ResidueClass.Left);
        var filled = MaskOutline.Rings(picture.Width, picture.Height, (x, y) => ClassAt(x, y) != ResidueClass.Outside);
        panel.KeepFree(filled.SelectMany(ring => ring).Select(point => new PixelPoint(point.X, point.Y)));
        panel.Hatch("overlay-untold", unclear, Ink.White, 135, SparsePitch, 1);
        panel.Hatch("overlay-residue-hatch", left, Ink.Amber, 45, DensePitch, 1.3);
        panel.Outline("overlay-filling", filled, Ink.Blue, 1.2);
        panel.Outline("overlay-residue", left, Ink.Amber, 1.6);

        IReadOnlyList<IReadOnlyList<PicturePoint>> Rings(ResidueClass wanted) =>
            MaskOutline.Rings(picture.Width, picture.Height, (x, y) => ClassAt(x, y) == wanted);

        ResidueClass ClassAt(int x, int y) => (ResidueClass)picture.Residue[(y * picture.Width) + x];
    }

    private static void DrawBranches(FilmPanel panel, Comparison comparison)
    {
        foreach (var residue in comparison.Branches)
        {
            var path = residue.Branch.Path;
            if (residue.Refused is not null)
            {
                panel.Line("overlay-refused", path.Points, Ink.White, 1.2, RefusedDashes);
            }

            panel.Tick("overlay-end", path, path.LengthPixels, 7, Ink.White, 1.6);
        }

        foreach (var residue in comparison.Branches)
        {
            panel.Name(residue.Branch.Name, residue.Branch.Path.Points[^1]);
        }
    }

    private static void DrawCaption(List<PictureMark> marks, int slot, double filmBottom, string caption) => marks.Add(new TextMark(
        "film-caption", new((slot * (Slot + Gap)) + (Slot / 2), filmBottom + CaptionSize + 3), caption, CaptionSize, TextAnchor.Middle));

    private static void DrawLegend(List<PictureMark> marks, double top, bool hasRefused)
    {
        const double height = LegendHeight;
        var (black, x) = (new Stroke(Ink.Black, 2.6), 0.0);
        Add("filling before", ring => marks.Add(new ShapeMark("overlay-filling", [ring], new Stroke(Ink.Blue, 1.2))));
        Add("still seen on the film after", ring =>
        {
            marks.Add(new HatchMark("overlay-residue-hatch", [ring], 45, DensePitch, new Stroke(Ink.Amber, 1.3)));
            marks.Add(new ShapeMark("overlay-residue", [ring], new Stroke(Ink.Amber, 1.6)));
        });
        Add("these films can't tell", ring =>
        {
            marks.Add(new HatchMark("overlay-untold", [ring], 135, SparsePitch, new Stroke(Ink.White, 1)));
            marks.Add(new ShapeMark("overlay-filling", [ring], new Stroke(Ink.Blue, 1.2)));
        });
        Add("traced end of the canal", ring => marks.Add(new LineMark("overlay-end", [new((ring[0].X + ring[1].X) / 2, ring[0].Y), new((ring[0].X + ring[1].X) / 2, ring[2].Y)], new Stroke(Ink.White, 1.6))));

        if (hasRefused)
        {
            Add("canal without a result", ring => marks.Add(new LineMark("overlay-refused", [new(ring[0].X, (ring[0].Y + ring[2].Y) / 2), new(ring[1].X, (ring[0].Y + ring[2].Y) / 2)], new Stroke(Ink.White, 1.2, RefusedDashes))));
        }

        void Add(string words, Action<IReadOnlyList<PicturePoint>> draw)
        {
            marks.Add(new ShapeMark("overlay-legend", [[new(x, top), new(x + 32, top), new(x + 32, top + height), new(x, top + height)]], black, Ink.Black));
            draw([new(x + 3, top + 3), new(x + 29, top + 3), new(x + 29, top + height - 3), new(x + 3, top + height - 3)]);
            marks.Add(new TextMark("film-caption", new(x + 39, top + height - 3.5), words, CaptionSize));
            x += 39 + TextLayout.Width(words, CaptionSize, false) + 22;
        }
    }

    /// <summary>The part of the film that holds all canals and fillings, in the film's own proportions.</summary>
    private static FilmRegion Close(Comparison comparison, int width, int height)
    {
        var places = comparison.Branches.SelectMany(residue => residue.Branch.Path.Points).ToList();
        if (places.Count == 0)
        {
            return FilmRegion.Whole(width, height);
        }

        var residue = comparison.Picture.Residue;
        var (left, right) = (places.Min(place => place.X), places.Max(place => place.X));
        var (top, bottom) = (places.Min(place => place.Y), places.Max(place => place.Y));
        for (var place = 0; place < residue.Length; place++)
        {
            if (residue[place] != (byte)ResidueClass.Outside)
            {
                (left, right) = (Math.Min(left, place % width), Math.Max(right, place % width));
                (top, bottom) = (Math.Min(top, place / width), Math.Max(bottom, place / width));
            }
        }

        // A margin of a twelfth on each side, and never closer than a quarter of the film.
        var share = Math.Clamp(Math.Max((right - left) / width, (bottom - top) / height) * 7 / 6, 0.25, 1);
        var (shownWidth, shownHeight) = ((int)(width * share), (int)(height * share));
        return new FilmRegion(
            (int)Math.Clamp(((left + right) / 2) - (shownWidth / 2.0), 0, width - shownWidth),
            (int)Math.Clamp(((top + bottom) / 2) - (shownHeight / 2.0), 0, height - shownHeight),
            shownWidth,
            shownHeight);
    }
}
