using System.Globalization;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Pictures;

/// <summary>Draws both films and what is left: the film before, the film after laid over it, and the canals enlarged with the filling before outlined and what remains hatched.</summary>
public static class ComparisonOverlay
{
    /// <summary>Width of the picture, in its units.</summary>
    public const double Width = 960;

    /// <summary>What the legend says of residue in patches below the detection limit.</summary>
    internal const string BelowLimitWords = "too small for these films to be sure of";

    private const double Gap = 12;
    private const double Slot = (Width - (2 * Gap)) / 3;
    private const double GreatestPanelHeight = 520;
    private const double CaptionSize = 13;
    private const double CaptionHeight = 24;
    private const double LegendHeight = 16;
    private const double LegendRow = 20;
    private const double LegendSample = 32;
    private const double LegendGap = 20;
    private const double DensePitch = 4.5;
    private const double SparsePitch = 11;

    private static readonly double[] RefusedDashes = [2, 4];
    private static readonly double[] Dots = [1, 2.2];

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
        var map = ResidueMap.Of(comparison);
        var legend = Legend(comparison, map);
        var whole = FilmRegion.Whole(before.Width, before.Height);
        var close = Close(comparison, before.Width, before.Height);
        var window = FirstWindow.Of(before);
        var panelWidth = Math.Min(Slot, greatestPanelHeight * before.Width / before.Height);

        var marks = new List<PictureMark>();
        var first = new FilmPanel(marks, "film-before", FilmImage.Shown(before.Pixels, before.Width, whole, window, before.ShownCurve), whole, At(0), panelWidth);
        var second = new FilmPanel(marks, "film-after", FilmImage.Shown(comparison.Picture.AlignedAfter, before.Width, whole, window, before.ShownCurve), whole, At(1), panelWidth);
        var third = new FilmPanel(marks, "film-residue", FilmImage.Shown(comparison.Picture.AlignedAfter, before.Width, close, window, before.ShownCurve, 0.05, 0.65), close, At(2), panelWidth);
        foreach (var panel in new[] { first, second, third })
        {
            panel.KeepFree(comparison.Branches.SelectMany(residue => residue.Branch.Path.Points));
            panel.ScaleBar(request.BeforeScale);
        }

        DrawClasses(third, comparison.Picture, map);
        DrawBranches(third, comparison);

        var enlarged = (double)before.Width / close.Width;
        DrawCaption(marks, 0, first.Height, "Film before");
        DrawCaption(marks, 1, first.Height, "Film after, laid over the film before");
        DrawCaption(marks, 2, first.Height, enlarged >= 1.05
            ? string.Create(CultureInfo.InvariantCulture, $"What is left, enlarged ×{enlarged:0.0}")
            : "What is left");
        DrawLegend(marks, legend, first.Height + CaptionHeight);

        return new Picture(
            "comparison-overlay",
            Width,
            first.Height + HeightBelowFilms(legend),
            "Both films and what is left",
            string.Join(" ", comparison.Branches.Select(residue => ResidueWords.Headline(residue, request.BeforeScale).TrimEnd('.') + ".")),
            marks);

        PicturePoint At(int slot) => new((slot * (Slot + Gap)) + ((Slot - panelWidth) / 2), 0);
    }

    /// <summary>What the picture is higher than its films: captions and legend.</summary>
    internal static double HeightBelowFilms(Comparison comparison) => HeightBelowFilms(Legend(comparison, ResidueMap.Of(comparison)));

    private static double HeightBelowFilms(List<LegendEntry> legend) => CaptionHeight + (LegendRow * (1 + legend.Max(entry => entry.Row)));

    private static void DrawClasses(FilmPanel panel, ComparisonPicture picture, byte[] map)
    {
        var unclear = Rings(ResidueClass.Unclear);
        var left = Rings(ResidueClass.Left);
        var faint = Rings(ResidueClass.BelowLimit);
        var filled = MaskOutline.Rings(picture.Width, picture.Height, (x, y) => ClassAt(x, y) != ResidueClass.Outside);
        panel.KeepFree(filled.SelectMany(ring => ring).Select(point => new PixelPoint(point.X, point.Y)));
        panel.Hatch("overlay-untold", unclear, Ink.White, 135, SparsePitch, 1);
        panel.Hatch("overlay-residue-hatch", left, Ink.Amber, 45, DensePitch, 1.3);
        panel.Outline("overlay-filling", filled, Ink.Blue, 1.2);
        panel.Outline("overlay-residue-below-limit", faint, Ink.Amber, 1, Dots);
        panel.Outline("overlay-residue", left, Ink.Amber, 1.6);

        IReadOnlyList<IReadOnlyList<PicturePoint>> Rings(ResidueClass wanted) =>
            MaskOutline.Rings(picture.Width, picture.Height, (x, y) => ClassAt(x, y) == wanted);

        ResidueClass ClassAt(int x, int y) => (ResidueClass)map[(y * picture.Width) + x];
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

    /// <summary>What the legend explains: only what is drawn, in rows no wider than the picture.</summary>
    private static List<LegendEntry> Legend(Comparison comparison, byte[] map)
    {
        List<(string Words, Action<List<PictureMark>, IReadOnlyList<PicturePoint>> Draw)> wanted =
        [
            ("filling before", (marks, ring) => marks.Add(new ShapeMark("overlay-filling", [ring], new Stroke(Ink.Blue, 1.2)))),
            ("still seen on the film after", (marks, ring) =>
            {
                marks.Add(new HatchMark("overlay-residue-hatch", [ring], 45, DensePitch, new Stroke(Ink.Amber, 1.3)));
                marks.Add(new ShapeMark("overlay-residue", [ring], new Stroke(Ink.Amber, 1.6)));
            }),
        ];
        if (map.Contains((byte)ResidueClass.BelowLimit))
        {
            wanted.Add((BelowLimitWords, (marks, ring) => marks.Add(new ShapeMark("overlay-residue-below-limit", [ring], new Stroke(Ink.Amber, 1, Dots)))));
        }

        if (map.Contains((byte)ResidueClass.Unclear))
        {
            wanted.Add(("these films can't tell", (marks, ring) =>
            {
                marks.Add(new HatchMark("overlay-untold", [ring], 135, SparsePitch, new Stroke(Ink.White, 1)));
                marks.Add(new ShapeMark("overlay-filling", [ring], new Stroke(Ink.Blue, 1.2)));
            }
            ));
        }

        wanted.Add(("traced end of the canal", (marks, ring) => marks.Add(new LineMark(
            "overlay-end",
            [new((ring[0].X + ring[1].X) / 2, ring[0].Y), new((ring[0].X + ring[1].X) / 2, ring[2].Y)],
            new Stroke(Ink.White, 1.6)))));
        if (comparison.Branches.Any(residue => residue.Refused is not null))
        {
            wanted.Add(("canal without a result", (marks, ring) => marks.Add(new LineMark(
                "overlay-refused",
                [new(ring[0].X, (ring[0].Y + ring[2].Y) / 2), new(ring[1].X, (ring[0].Y + ring[2].Y) / 2)],
                new Stroke(Ink.White, 1.2, RefusedDashes)))));
        }

        var legend = new List<LegendEntry>();
        var (row, x) = (0, 0.0);
        foreach (var (words, draw) in wanted)
        {
            var width = LegendSample + 7 + TextLayout.Width(words, CaptionSize, false);
            if (x > 0 && x + width > Width)
            {
                (row, x) = (row + 1, 0);
            }

            legend.Add(new LegendEntry(words, row, x, draw));
            x += width + LegendGap;
        }

        return legend;
    }

    private static void DrawLegend(List<PictureMark> marks, List<LegendEntry> legend, double firstTop)
    {
        const double height = LegendHeight;
        foreach (var (words, row, x, draw) in legend)
        {
            var top = firstTop + (row * LegendRow) + 2;
            marks.Add(new ShapeMark("overlay-legend", [[new(x, top), new(x + LegendSample, top), new(x + LegendSample, top + height), new(x, top + height)]], new Stroke(Ink.Black, 2.6), Ink.Black));
            draw(marks, [new(x + 3, top + 3), new(x + LegendSample - 3, top + 3), new(x + LegendSample - 3, top + height - 3), new(x + 3, top + height - 3)]);
            marks.Add(new TextMark("film-caption", new(x + LegendSample + 7, top + height - 3.5), words, CaptionSize));
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

    /// <summary>One sample of the legend and its words.</summary>
    private sealed record LegendEntry(string Words, int Row, double X, Action<List<PictureMark>, IReadOnlyList<PicturePoint>> Draw);
}
