using System.Globalization;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;

namespace Secondpass.Exchange.Pictures;

/// <summary>Lays one canal strip out, mark by mark.</summary>
internal sealed class StripSketch
{
    private const double NameSize = 16;
    private const double LineSize = 14;
    private const double LabelSize = 13;
    private const double LineStep = 18;
    private const double DensePitch = 3.6;
    private const double SparsePitch = 9;

    private static readonly Stroke OutlineStroke = new(Ink.Page, 1.3);
    private static readonly Stroke SharedStroke = new(Ink.Quiet, 1, [2, 2]);
    private static readonly Stroke ResidueStroke = new(Ink.Page, 1.8);
    private static readonly Stroke ResidueHatch = new(Ink.Page, 1.1);
    private static readonly Stroke BelowLimitStroke = new(Ink.Page, 0.8, [1, 1.6]);
    private static readonly Stroke UntoldHatch = new(Ink.Page, 0.8);
    private static readonly Stroke HelpLine = new(Ink.Quiet, 0.7, [3, 3]);
    private static readonly Stroke MiddleLine = new(Ink.Quiet, 0.7, [9, 3, 2, 3]);
    private static readonly Stroke EndStroke = new(Ink.Page, 2.4);
    private static readonly Stroke ScaleStroke = new(Ink.Page, 1);

    private readonly StripContent content;
    private readonly StripFrame frame;
    private readonly Calibration? scale;
    private readonly List<PictureMark> marks = [];
    private readonly List<string> lines;
    private readonly string name;
    private readonly double nameWidth;
    private readonly double bandMiddle;

    public StripSketch(StripContent content, StripFrame frame, Calibration? scale, int greatestLines)
    {
        this.content = content;
        this.frame = frame;
        this.scale = scale;
        name = TextLayout.Fit(TextLayout.Plain(content.Branch.Name), NameSize, true, CanalStrip.Width * 0.4);
        nameWidth = TextLayout.Width(name, NameSize, true) + 9;
        lines = TextLayout.Wrap(
            TextLayout.Plain(content.Line), LineSize, false, StripFrame.Right - StripFrame.Left, nameWidth, greatestLines);
        bandMiddle = NameSize + ((lines.Count - 1) * LineStep) + 46 + StripFrame.HalfBand;
    }

    private double BandTop => bandMiddle - StripFrame.HalfBand;

    private double BandBottom => bandMiddle + StripFrame.HalfBand;

    private double EndX => X(content.Branch.Path.LengthPixels);

    public Picture Draw()
    {
        DrawWords();
        DrawThirds();
        marks.Add(new LineMark("strip-path", [new(X(0), bandMiddle), new(EndX, bandMiddle)], MiddleLine));
        DrawOutline(content.Shared, "strip-shared", SharedStroke);
        DrawUntold();
        DrawResidue();
        DrawOutline(content.Own, "strip-outline", OutlineStroke);
        DrawVoids();
        DrawBranchPoints();
        DrawEnds();
        DrawScale();
        return new Picture(
            "canal-strip",
            CanalStrip.Width,
            BandBottom + 46,
            "Canal " + content.Branch.Name + ", from orifice to end",
            Description(),
            marks);
    }

    public static Picture Legend()
    {
        const double height = 20;
        const double swatchWidth = 26;
        var legend = new List<PictureMark>();
        var (x, y) = (StripFrame.Left, 4.0);
        Add("filling before", box => legend.Add(new ShapeMark("strip-outline", [box], OutlineStroke)));
        Add("what remains", box =>
        {
            legend.Add(new HatchMark("strip-residue-hatch", [box], 45, DensePitch, ResidueHatch));
            legend.Add(new ShapeMark("strip-residue", [box], ResidueStroke));
        });
        Add("too small to be sure of", box => legend.Add(new ShapeMark("strip-residue-below-limit", [box], BelowLimitStroke)));
        Add("films can't tell", box =>
        {
            legend.Add(new HatchMark("strip-untold", [box], 135, SparsePitch, UntoldHatch));
            legend.Add(new ShapeMark("strip-outline", [box], OutlineStroke));
        });
        Add("shared with the trunk", box => legend.Add(new ShapeMark("strip-shared", [box], SharedStroke)));
        Add("branch point", box => legend.Add(Diamond(Middle(box))));
        Add("filling end", box => legend.Add(Triangle(Middle(box) with { Y = box[0].Y + 3 })));
        Add("canal end", box => legend.Add(new LineMark("strip-end", [new(Middle(box).X, box[0].Y), new(Middle(box).X, box[2].Y)], EndStroke)));
        return new Picture("canal-strip-legend", CanalStrip.Width, y + height, "What the strips' lines mean", "Outline: filling before. Dense hatching: what remains. Thinly dotted: too small to be sure of. Sparse hatching the other way: the films can't tell.", legend);

        void Add(string words, Action<IReadOnlyList<PicturePoint>> drawSwatch)
        {
            var width = swatchWidth + 6 + TextLayout.Width(words, LabelSize, false) + 16;
            if (x + width - 16 > StripFrame.Right)
            {
                (x, y) = (StripFrame.Left, y + height);
            }

            drawSwatch([new(x, y), new(x + swatchWidth, y), new(x + swatchWidth, y + 13), new(x, y + 13)]);
            legend.Add(new TextMark("strip-label", new(x + swatchWidth + 6, y + 11.5), words, LabelSize));
            x += width;
        }

        static PicturePoint Middle(IReadOnlyList<PicturePoint> box) => new((box[0].X + box[2].X) / 2, (box[0].Y + box[2].Y) / 2);
    }

    private static ShapeMark Diamond(PicturePoint at) => new(
        "strip-branch-point",
        [[new(at.X, at.Y - 6), new(at.X + 5, at.Y), new(at.X, at.Y + 6), new(at.X - 5, at.Y)]],
        null,
        Ink.Page);

    private static ShapeMark Triangle(PicturePoint tip) => new(
        "strip-filling-end", [[tip, new(tip.X + 5, tip.Y + 9), new(tip.X - 5, tip.Y + 9)]], null, Ink.Page);

    private double X(double levelPixels) => StripFrame.Left + (levelPixels * frame.UnitsPerPixel);

    private double Y(double acrossPixels) => bandMiddle - (acrossPixels * frame.UnitsPerPixel * frame.WidthFactor);

    private void DrawWords()
    {
        marks.Add(new TextMark("strip-name", new(StripFrame.Left, NameSize), name, NameSize, Bold: true));
        for (var i = 0; i < lines.Count; i++)
        {
            var x = StripFrame.Left + (i == 0 ? nameWidth : 0);
            marks.Add(new TextMark("strip-line", new(x, NameSize + (i * LineStep)), lines[i], LineSize));
        }
    }

    private void DrawThirds()
    {
        var length = content.Branch.Path.LengthPixels;
        var room = (EndX - StripFrame.Left) / 3;
        foreach (var third in Enum.GetValues<CanalThird>())
        {
            var (fromPixels, toPixels) = ((int)third * length / 3, ((int)third + 1) * length / 3);
            var x = X(fromPixels);
            var indent = third == CanalThird.Coronal ? 0 : 4;
            marks.Add(new LineMark("strip-third", [new(x, BandTop - (third == CanalThird.Coronal ? 0 : 36)), new(x, BandBottom)], HelpLine));
            marks.Add(new TextMark("strip-third-name", new(x + indent, BandTop - 22), TextLayout.Fit(ResidueWords.Name(third), LabelSize, false, room - indent), LabelSize));
            if (content.Thirds?[third] is { } words)
            {
                var isFree = !content.Shared.Concat(content.Own).Any(section =>
                    section.IsFilled && section.LevelPixels > fromPixels && section.LevelPixels < toPixels);
                DrawThirdWords(words, x + indent, room - indent - 4, isFree);
            }
        }
    }

    private void DrawThirdWords(string words, double x, double room, bool bandIsFree)
    {
        if (TextLayout.Width(words, LabelSize, false) > room && words == ResidueWords.NoFillingBefore && bandIsFree)
        {
            var wrapped = TextLayout.Wrap(words, LabelSize, false, room);
            for (var i = 0; i < wrapped.Count; i++)
            {
                marks.Add(new TextMark("strip-third-share", new(x, BandTop + 13 + (i * 15)), wrapped[i], LabelSize));
            }

            return;
        }

        // The shared outline says the rest.
        var text = words == ResidueWords.CountedWithTrunk ? "see trunk" : words;
        var bracket = text.IndexOf(" (", StringComparison.Ordinal);
        text = bracket > 0 && TextLayout.Width(text, LabelSize, false) > room ? text[..bracket] : text;
        marks.Add(new TextMark("strip-third-share", new(x, BandTop - 6), TextLayout.Fit(text, LabelSize, false, room), LabelSize));
    }

    private void DrawOutline(IReadOnlyList<StripSection> sections, string part, Stroke stroke)
    {
        var rings = Rings(sections, section => section.IsFilled, section => section.Left, section => section.Right);
        if (rings.Count > 0)
        {
            marks.Add(new ShapeMark(part, rings, stroke));
        }
    }

    private void DrawUntold()
    {
        var untold = Rings(content.Own, IsUntold, section => section.Left, section => section.Right);
        if (untold.Count == 0)
        {
            return;
        }

        var seen = Rings(
            content.Own,
            section => IsUntold(section) && ResidueInside(section) is { Left: var left, Right: var right } && left > right,
            section => ResidueInside(section).Left,
            section => ResidueInside(section).Right);
        marks.Add(new HatchMark("strip-untold", [.. untold, .. seen], 135, SparsePitch, UntoldHatch));

        static bool IsUntold(StripSection section) => section.IsFilled && section.CannotTell;

        static (double Left, double Right) ResidueInside(StripSection section) =>
            (Math.Min(section.Left, section.ResidueLeft), Math.Max(section.Right, section.ResidueRight));
    }

    private void DrawResidue()
    {
        var faint = Rings(content.Own, section => section.HasResidue && section.IsBelowLimit, section => section.ResidueLeft, section => section.ResidueRight);
        if (faint.Count > 0)
        {
            marks.Add(new ShapeMark("strip-residue-below-limit", faint, BelowLimitStroke));
        }

        var rings = Rings(content.Own, section => section.HasResidue && !section.IsBelowLimit, section => section.ResidueLeft, section => section.ResidueRight);
        if (rings.Count > 0)
        {
            marks.Add(new HatchMark("strip-residue-hatch", rings, 45, DensePitch, ResidueHatch));
            marks.Add(new ShapeMark("strip-residue", rings, ResidueStroke));
        }
    }

    /// <summary>One ring for each run of neighbouring sections that belong; every section reaches half way to its neighbours.</summary>
    private List<IReadOnlyList<PicturePoint>> Rings(
        IReadOnlyList<StripSection> sections,
        Func<StripSection, bool> belongs,
        Func<StripSection, double> left,
        Func<StripSection, double> right)
    {
        var rings = new List<IReadOnlyList<PicturePoint>>();
        for (var first = 0; first < sections.Count; first++)
        {
            if (!belongs(sections[first]))
            {
                continue;
            }

            var last = first;
            while (last + 1 < sections.Count && belongs(sections[last + 1]))
            {
                last++;
            }

            var run = Enumerable.Range(first, last - first + 1).Select(index => (Level: sections[index].LevelPixels, Section: sections[index])).ToList();
            run.Insert(0, (HalfWay(sections, first, -1), sections[first]));
            run.Add((HalfWay(sections, last, 1), sections[last]));
            rings.Add(
            [
                .. run.Select(place => new PicturePoint(X(place.Level), Y(left(place.Section)))),
                .. run.AsEnumerable().Reverse().Select(place => new PicturePoint(X(place.Level), Y(right(place.Section)))),
            ]);
            first = last;
        }

        return rings;
    }

    private static double HalfWay(IReadOnlyList<StripSection> sections, int index, int step) =>
        index + step >= 0 && index + step < sections.Count
            ? (sections[index].LevelPixels + sections[index + step].LevelPixels) / 2
            : sections[index].LevelPixels;

    private void DrawVoids()
    {
        foreach (var gap in content.Voids)
        {
            var (from, to) = (X(gap.FromPixels), X(gap.ToPixels));
            marks.Add(new LineMark("strip-void", [new(from, BandTop), new(from, BandTop - 5), new(to, BandTop - 5), new(to, BandTop)], ScaleStroke));
            marks.Add(new TextMark("strip-label", new((from + to) / 2, BandTop - 8), "void", LabelSize, TextAnchor.Middle));
        }
    }

    private void DrawBranchPoints()
    {
        if (content.Branch.OwnFromPixels > 0)
        {
            DrawBranchPoint(content.Branch.OwnFromPixels, "branch point");
        }

        foreach (var branch in content.Branch.Branches)
        {
            DrawBranchPoint(branch.OwnFromPixels, TextLayout.Fit(TextLayout.Plain(branch.Name), LabelSize, false, 90));
        }
    }

    private void DrawBranchPoint(double levelPixels, string words)
    {
        var at = new PicturePoint(X(levelPixels), bandMiddle);
        var toTheLeft = at.X + 6 + TextLayout.Width(words, LabelSize, false) > StripFrame.Right;
        marks.Add(new LineMark("strip-branch-point", [new(at.X, BandBottom - 16), at], ScaleStroke));
        marks.Add(Diamond(at));
        marks.Add(new TextMark("strip-label", new(at.X + (toTheLeft ? -4 : 4), BandBottom - 4), words, LabelSize, toTheLeft ? TextAnchor.End : TextAnchor.Start));
    }

    private void DrawEnds()
    {
        const string endWords = "canal end";
        marks.Add(new LineMark("strip-end", [new(EndX, BandTop), new(EndX, BandBottom)], EndStroke));
        var isRoomInside = (EndX - StripFrame.Left) / 3 > 8 + TextLayout.Width(endWords, LabelSize, false) + TextLayout.Width(ResidueWords.Name(CanalThird.Apical), LabelSize, false);
        marks.Add(isRoomInside
            ? new TextMark("strip-label", new(EndX, BandTop - 22), endWords, LabelSize, TextAnchor.End)
            : new TextMark("strip-label", new(EndX + 5, BandTop - 22), endWords, LabelSize));

        var scaleWords = $"{(scale is null ? "pixels: no scale" : "mm from orifice")}, {WidthWords()}";
        var scaleOnTheLeft = true;
        if (content.Branch.Filling.FilledToPixels is { } end)
        {
            const string fillingWords = "filling end";
            var (low, x, high) = (X(end.Interval.Low), X(end.Value), X(end.Interval.High));
            marks.Add(new LineMark("strip-filling-end-interval", [new(low, BandBottom + 2), new(high, BandBottom + 2)], ScaleStroke));
            marks.Add(Triangle(new(x, BandBottom + 2)));

            var (scaleWidth, wordsWidth) = (TextLayout.Width(scaleWords, LabelSize, false) + 8, TextLayout.Width(fillingWords, LabelSize, false) + 9);
            scaleOnTheLeft = x - 6 > StripFrame.Left + scaleWidth;
            var wordsOnTheLeft = scaleOnTheLeft
                ? x - wordsWidth > StripFrame.Left + scaleWidth
                : x + wordsWidth > StripFrame.Right - scaleWidth;
            marks.Add(wordsOnTheLeft
                ? new TextMark("strip-label", new(x - 9, BandBottom + 15), fillingWords, LabelSize, TextAnchor.End)
                : new TextMark("strip-label", new(x + 9, BandBottom + 15), fillingWords, LabelSize));
        }

        marks.Add(scaleOnTheLeft
            ? new TextMark("strip-scale-unit", new(StripFrame.Left, BandBottom + 15), scaleWords, LabelSize)
            : new TextMark("strip-scale-unit", new(StripFrame.Right, BandBottom + 15), scaleWords, LabelSize, TextAnchor.End));
    }

    private string WidthWords() => frame.WidthFactor == 1
        ? "width to scale"
        : string.Create(CultureInfo.InvariantCulture, $"width ×{frame.WidthFactor:0.##}");

    private void DrawScale()
    {
        var y = BandBottom + 22;
        marks.Add(new LineMark("strip-scale", [new(StripFrame.Left, y), new(StripFrame.Right, y)], ScaleStroke));
        var pixelsPerStep = 1 / (scale?.MillimetresPerPixel ?? 1);
        var span = (StripFrame.Right - StripFrame.Left) / frame.UnitsPerPixel / pixelsPerStep;
        var (minor, major) = Steps(span);
        for (var step = 0; step * minor <= span + 1e-6; step++)
        {
            var value = step * minor;
            var x = X(value * pixelsPerStep);
            var isMajor = Math.Abs(Math.IEEERemainder(value, major)) < minor / 10;
            marks.Add(new LineMark("strip-scale", [new(x, y), new(x, y + (isMajor ? 6 : 3.5))], ScaleStroke));
            if (isMajor)
            {
                var number = value.ToString("0.##", CultureInfo.InvariantCulture);
                var half = TextLayout.Width(number, LabelSize, false) / 2;
                marks.Add(new TextMark("strip-scale-number", new(Math.Min(x, CanalStrip.Width - half - 1), y + 18), number, LabelSize, TextAnchor.Middle));
            }
        }
    }

    /// <summary>Distance of small and of numbered ticks: 1 and 5, or 2 and 10, times a power of ten, at most 30 small ones.</summary>
    private static (double Minor, double Major) Steps(double span)
    {
        var unit = Math.Pow(10, Math.Floor(Math.Log10(span / 30)));
        return span / unit <= 30 ? (unit, 5 * unit)
            : span / (2 * unit) <= 30 ? (2 * unit, 10 * unit)
            : (10 * unit, 50 * unit);
    }

    private string Description()
    {
        var thirds = content.Thirds is null
            ? string.Empty
            : " " + string.Join(" ", content.Thirds.Select(third => $"{char.ToUpperInvariant(ResidueWords.Name(third.Key)[0])}{ResidueWords.Name(third.Key)[1..]} third: {third.Value}."));
        var line = content.Line.EndsWith('.') ? content.Line : content.Line + ".";
        return $"{content.Branch.Name}: {line}{thirds} Drawn from orifice to end, {WidthWords()}; {FilmWords.Scale(scale)}.";
    }
}
