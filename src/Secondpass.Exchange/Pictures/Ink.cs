namespace Secondpass.Exchange.Pictures;

/// <summary>What a mark is drawn with. A painter turns it into a colour; no meaning hangs on the colour alone.</summary>
public enum Ink
{
    /// <summary>The ink of the page: black on paper, the text's colour on a screen, light or dark.</summary>
    Page,

    /// <summary>The same, fainter: scales, captions, help lines.</summary>
    Quiet,

    /// <summary>Black whatever the page: backing of words on a film.</summary>
    Black,

    /// <summary>White whatever the page: lines and words on a film.</summary>
    White,

    /// <summary>Amber, light enough to stand out in grey too: residue on a film.</summary>
    Amber,

    /// <summary>Pale blue, light in grey too: the filling's outline on a film.</summary>
    Blue,
}

/// <summary>How a line is drawn.</summary>
/// <param name="Ink">With what.</param>
/// <param name="Width">How thick, in the picture's units.</param>
/// <param name="Dashes">Lengths of dash and gap in turn, in the picture's units; null for an unbroken line.</param>
public sealed record Stroke(Ink Ink, double Width, IReadOnlyList<double>? Dashes = null)
{
    internal Stroke Scaled(double factor) => this with
    {
        Width = Width * factor,
        Dashes = Dashes?.Select(length => length * factor).ToArray(),
    };
}
