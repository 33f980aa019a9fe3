using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Pictures;

/// <summary>A film, or a part of one, on a picture, and what is drawn over it.</summary>
/// <remarks>Everything drawn on a film has a dark rim, so that it shows on light and dark alike, in colour and in grey.</remarks>
internal sealed class FilmPanel
{
    private const double LabelSize = 13;
    private const double LabelHeight = 17;

    private readonly List<PictureMark> marks;
    private readonly FilmRegion region;
    private readonly PicturePoint at;
    private readonly double unitsPerPixel;
    private readonly List<Box> taken = [];
    private readonly List<PicturePoint> kept = [];

    /// <summary>Puts a film on a picture.</summary>
    /// <param name="marks">The picture's marks, added to.</param>
    /// <param name="part">What the film stands for, as <see cref="PictureMark.Part"/>.</param>
    /// <param name="image">The film as shown.</param>
    /// <param name="region">The part of the film that the image shows.</param>
    /// <param name="at">Top left corner on the picture.</param>
    /// <param name="width">Width on the picture.</param>
    public FilmPanel(List<PictureMark> marks, string part, GreyImage image, FilmRegion region, PicturePoint at, double width)
    {
        this.marks = marks;
        this.region = region;
        this.at = at;
        unitsPerPixel = width / region.Width;
        Width = width;
        Height = region.Height * unitsPerPixel;
        marks.Add(new GreyImageMark(part, at, Width, Height, image));
    }

    public double Width { get; }

    public double Height { get; }

    /// <summary>Keeps words off places of the film, such as the canals.</summary>
    public void KeepFree(IEnumerable<PixelPoint> places) => kept.AddRange(places.Select(Place));

    /// <summary>A closed line round shapes, in pixels of the film.</summary>
    public void Outline(string part, IReadOnlyList<IReadOnlyList<PicturePoint>> rings, Ink ink, double width, IReadOnlyList<double>? dashes = null)
    {
        if (rings.Count > 0)
        {
            var placed = Placed(rings);
            marks.Add(new ShapeMark(part, placed, new Stroke(Ink.Black, width + 1.4, dashes)));
            marks.Add(new ShapeMark(part, placed, new Stroke(ink, width, dashes)));
        }
    }

    /// <summary>Hatching inside shapes, in pixels of the film.</summary>
    public void Hatch(string part, IReadOnlyList<IReadOnlyList<PicturePoint>> rings, Ink ink, double angleDegrees, double pitch, double width)
    {
        if (rings.Count > 0)
        {
            var placed = Placed(rings);
            marks.Add(new HatchMark(part, placed, angleDegrees, pitch, new Stroke(Ink.Black, width + 1)));
            marks.Add(new HatchMark(part, placed, angleDegrees, pitch, new Stroke(ink, width)));
        }
    }

    /// <summary>A line through places of the film.</summary>
    public void Line(string part, IEnumerable<PixelPoint> places, Ink ink, double width, IReadOnlyList<double>? dashes = null)
    {
        var placed = places.Select(Place).ToList();
        marks.Add(new LineMark(part, placed, new Stroke(Ink.Black, width + 1.4)));
        marks.Add(new LineMark(part, placed, new Stroke(ink, width, dashes)));
    }

    /// <summary>A short line across a canal at a level.</summary>
    public void Tick(string part, CanalPath path, double levelPixels, double halfLengthUnits, Ink ink, double width)
    {
        var (place, direction) = (path.At(levelPixels), path.DirectionAt(levelPixels));
        var across = new PixelPoint(-direction.Y, direction.X) * (halfLengthUnits / unitsPerPixel);
        Line(part, [place - across, place + across], ink, width);
    }

    /// <summary>A name near a place of the film, where it covers no other name and as little as can be of what is kept free.</summary>
    public void Name(string text, PixelPoint place)
    {
        var fitted = TextLayout.Fit(TextLayout.Plain(text), LabelSize, true, Width / 2);
        var width = TextLayout.Width(fitted, LabelSize, true) + 8;
        var centre = Place(place);
        double[] aside = [0, -0.6, 0.6, -1.1, 1.1];
        double[] down = [6, 6 + LabelHeight, -LabelHeight / 2, -6 - LabelHeight, -6 - (2 * LabelHeight), 6 + (2 * LabelHeight)];
        var box = down
            .SelectMany(down => aside.Select(aside => Inside(centre.X + ((aside - 0.5) * width), centre.Y + down, width, LabelHeight)))
            .MinBy(Covered);
        taken.Add(box);
        marks.Add(new ShapeMark("film-name", [box.Corners], null, Ink.Black));
        marks.Add(new TextMark("film-name", new((box.Left + box.Right) / 2, box.Bottom - 4.5), fitted, LabelSize, TextAnchor.Middle, Ink.White, Bold: true));
    }

    /// <summary>A bar of a whole number of millimetres, in the corner where it covers least of what is kept free; nothing without a scale.</summary>
    public void ScaleBar(Calibration? scale)
    {
        if (scale is null)
        {
            return;
        }

        var unitsPerMillimetre = unitsPerPixel / scale.MillimetresPerPixel;
        var millimetres = new[] { 10, 5, 2 }.FirstOrDefault(length => length * unitsPerMillimetre < Width / 3, 1);
        var text = millimetres.ToString(CultureInfo.InvariantCulture) + " mm";
        var length = millimetres * unitsPerMillimetre;
        var (width, height) = (Math.Max(length, TextLayout.Width(text, LabelSize, true)) + 8, LabelHeight + 8);
        var corners = new[] { (0.0, Height), (Width, Height), (0, 0), (Width, 0) };
        var box = corners.Select(corner => Inside(at.X + corner.Item1 - (width / 2), at.Y + corner.Item2 - (height / 2), width, height, 4)).MinBy(Covered);
        taken.Add(box);
        var (left, bottom) = (box.Left + 4, box.Bottom - 4);
        marks.Add(new ShapeMark("film-scale", [box.Corners], null, Ink.Black));
        marks.Add(new LineMark("film-scale", [new(left, bottom - 4), new(left, bottom), new(left + length, bottom), new(left + length, bottom - 4)], new Stroke(Ink.White, 1.5)));
        marks.Add(new TextMark("film-scale", new(left, bottom - 6), text, LabelSize, Ink: Ink.White, Bold: true));
    }

    /// <summary>How much a box would cover: another box counts more than all places kept free.</summary>
    private int Covered(Box box) => (taken.Count(box.Meets) * (kept.Count + 1)) + kept.Count(box.Holds);

    private Box Inside(double left, double top, double width, double height, double margin = 1)
    {
        var keptLeft = Math.Max(at.X + margin, Math.Min(left, at.X + Width - width - margin));
        var keptTop = Math.Max(at.Y + margin, Math.Min(top, at.Y + Height - height - margin));
        return new Box(keptLeft, keptTop, keptLeft + width, keptTop + height);
    }

    private List<IReadOnlyList<PicturePoint>> Placed(IReadOnlyList<IReadOnlyList<PicturePoint>> rings) =>
        [.. rings.Select(ring => (IReadOnlyList<PicturePoint>)[.. ring.Select(point => Place(new PixelPoint(point.X, point.Y)))])];

    /// <summary>Where a place of the film lies on the picture; a place off the part shown is taken to its edge.</summary>
    private PicturePoint Place(PixelPoint place) => new(
        Math.Clamp(at.X + ((place.X + 0.5 - region.Left) * unitsPerPixel), at.X, at.X + Width),
        Math.Clamp(at.Y + ((place.Y + 0.5 - region.Top) * unitsPerPixel), at.Y, at.Y + Height));

    private readonly record struct Box(double Left, double Top, double Right, double Bottom)
    {
        public IReadOnlyList<PicturePoint> Corners => [new(Left, Top), new(Right, Top), new(Right, Bottom), new(Left, Bottom)];

        public bool Meets(Box other) => Left < other.Right && Right > other.Left && Top < other.Bottom && Bottom > other.Top;

        public bool Holds(PicturePoint point) => point.X > Left && point.X < Right && point.Y > Top && point.Y < Bottom;
    }
}
