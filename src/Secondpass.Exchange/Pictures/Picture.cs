namespace Secondpass.Exchange.Pictures;

/// <summary>A drawing as a list of marks that every painter draws alike: <see cref="SvgPainter"/>, <see cref="PngPainter"/>.</summary>
/// <remarks>
/// Lengths are in the picture's own units; at its natural size a unit is 1/96 inch. Marks are painted in order, later ones over earlier.
/// There is no background: what is not marked shows the page.
/// </remarks>
/// <param name="Kind">A short word for style sheets, lower case with hyphens, such as <c>canal-strip</c>.</param>
/// <param name="Width">Width in units.</param>
/// <param name="Height">Height in units.</param>
/// <param name="Title">What it shows, in a few words, for those who can't see it.</param>
/// <param name="Description">The same in sentences, with the figures.</param>
/// <param name="Marks">What is drawn.</param>
public sealed record Picture(
    string Kind,
    double Width,
    double Height,
    string Title,
    string Description,
    IReadOnlyList<PictureMark> Marks);

/// <summary>One thing drawn on a <see cref="Picture"/>.</summary>
/// <param name="Part">What it stands for, lower case with hyphens, such as <c>strip-outline</c>: the class that a style sheet finds it by.</param>
public abstract record PictureMark(string Part)
{
    /// <summary>The same mark made larger or smaller about the top left corner, then moved.</summary>
    /// <param name="factor">How much larger.</param>
    /// <param name="dx">Units to the right.</param>
    /// <param name="dy">Units down.</param>
    internal abstract PictureMark Moved(double factor, double dx, double dy);
}

/// <summary>A line through points in order.</summary>
/// <param name="Part">What it stands for.</param>
/// <param name="Points">At least two points.</param>
/// <param name="Stroke">How it is drawn.</param>
public sealed record LineMark(string Part, IReadOnlyList<PicturePoint> Points, Stroke Stroke)
    : PictureMark(Part)
{
    internal override PictureMark Moved(double factor, double dx, double dy) =>
        new LineMark(Part, [.. Points.Select(point => point.Moved(factor, dx, dy))], Stroke.Scaled(factor));
}

/// <summary>One or more closed shapes; a shape inside another is a hole in it.</summary>
/// <param name="Part">What it stands for.</param>
/// <param name="Rings">Each ring's corners, at least three; the last joins the first.</param>
/// <param name="Stroke">How the edge is drawn; null for no edge.</param>
/// <param name="Fill">What the inside is filled with; null for nothing.</param>
public sealed record ShapeMark(
    string Part,
    IReadOnlyList<IReadOnlyList<PicturePoint>> Rings,
    Stroke? Stroke,
    Ink? Fill = null)
    : PictureMark(Part)
{
    internal override PictureMark Moved(double factor, double dx, double dy) =>
        new ShapeMark(Part, MovedRings(Rings, factor, dx, dy), Stroke?.Scaled(factor), Fill);

    internal static IReadOnlyList<IReadOnlyList<PicturePoint>> MovedRings(
        IReadOnlyList<IReadOnlyList<PicturePoint>> rings, double factor, double dx, double dy) =>
        [.. rings.Select(ring => (IReadOnlyList<PicturePoint>)[.. ring.Select(point => point.Moved(factor, dx, dy))])];
}

/// <summary>The inside of closed shapes, hatched with parallel lines.</summary>
/// <param name="Part">What it stands for.</param>
/// <param name="Rings">As in <see cref="ShapeMark"/>.</param>
/// <param name="AngleDegrees">Direction of the lines, anticlockwise from the right.</param>
/// <param name="Pitch">Distance from line to line, in units; greater than 0.</param>
/// <param name="Stroke">How the lines are drawn.</param>
public sealed record HatchMark(
    string Part,
    IReadOnlyList<IReadOnlyList<PicturePoint>> Rings,
    double AngleDegrees,
    double Pitch,
    Stroke Stroke)
    : PictureMark(Part)
{
    /// <summary>The hatching as single straight lines, from edge to edge of the shapes.</summary>
    public IEnumerable<(PicturePoint From, PicturePoint To)> Lines() => Hatching.Lines(Rings, AngleDegrees, Pitch);

    internal override PictureMark Moved(double factor, double dx, double dy) =>
        new HatchMark(Part, ShapeMark.MovedRings(Rings, factor, dx, dy), AngleDegrees, Pitch * factor, Stroke.Scaled(factor));
}

/// <summary>Which end of a line of text stands at its place.</summary>
public enum TextAnchor
{
    /// <summary>The text begins at its place.</summary>
    Start,

    /// <summary>Its middle is there.</summary>
    Middle,

    /// <summary>It ends there.</summary>
    End,
}

/// <summary>One line of text.</summary>
/// <param name="Part">What it stands for.</param>
/// <param name="At">Its anchor, on the base line.</param>
/// <param name="Text">The text.</param>
/// <param name="Size">Size of the letters (em), in units.</param>
/// <param name="Anchor">Which end of it stands at <paramref name="At"/>.</param>
/// <param name="Ink">With what it is written.</param>
/// <param name="Bold">Whether it is bold.</param>
public sealed record TextMark(
    string Part,
    PicturePoint At,
    string Text,
    double Size,
    TextAnchor Anchor = TextAnchor.Start,
    Ink Ink = Ink.Page,
    bool Bold = false)
    : PictureMark(Part)
{
    internal override PictureMark Moved(double factor, double dx, double dy) =>
        this with { At = At.Moved(factor, dx, dy), Size = Size * factor };
}

/// <summary>A grey image, such as a film as shown.</summary>
/// <param name="Part">What it stands for.</param>
/// <param name="At">Its top left corner.</param>
/// <param name="Width">Width in units.</param>
/// <param name="Height">Height in units.</param>
/// <param name="Image">The pixels.</param>
public sealed record GreyImageMark(string Part, PicturePoint At, double Width, double Height, GreyImage Image)
    : PictureMark(Part)
{
    internal override PictureMark Moved(double factor, double dx, double dy) =>
        this with { At = At.Moved(factor, dx, dy), Width = Width * factor, Height = Height * factor };
}
