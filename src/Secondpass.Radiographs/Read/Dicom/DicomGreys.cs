using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>From stored values to kept ones, larger lighter, and the window on their scale (DICOM PS3.4, N.2: modality, window, presentation).</summary>
/// <param name="Picture">How pixels are stored.</param>
/// <param name="Table">The modality table, or null.</param>
/// <param name="Rescale">The modality line; where there is a table, outputs are the table's.</param>
/// <param name="IsInverted">Whether kept values are the greatest value minus what comes out.</param>
internal sealed record DicomGreys(DicomPicture Picture, DicomTable? Table, DicomRescale Rescale, bool IsInverted)
{
    // A table that keeps so close to a straight line is one: no screen shows less than a shade of 255.
    private const double OneShade = 1.0 / 255;

    /// <summary>The greatest value that is kept.</summary>
    public int GreatestValue => Table?.GreatestOutput ?? Picture.GreatestValue;

    /// <summary>Reads what the file says of its grey values.</summary>
    /// <param name="elements">The file's elements.</param>
    /// <param name="picture">How pixels are stored; grey.</param>
    /// <param name="notices">Where notices go.</param>
    public static DicomGreys From(DicomElements elements, DicomPicture picture, List<string> notices)
    {
        var table = DicomTable.Read(elements, DicomTag.ModalityTable, picture.IsSigned);
        if (elements.Has(DicomTag.ModalityTable))
        {
            notices.Add(table is null ? FilmNotices.GreyTableNotApplied : FilmNotices.GreyTableApplied);
        }

        var rescale = table is null ? DicomRescale.From(elements, notices) : new DicomRescale(1, 0);
        return new DicomGreys(picture, table, rescale, IsDarker(elements, picture, notices) != rescale.IsFalling);
    }

    /// <summary>Changes stored cells into kept values, in place.</summary>
    public void Keep(Span<ushort> cells)
    {
        foreach (ref var cell in cells)
        {
            var raised = Picture.Value(cell);
            var value = Table?.Of(raised - Picture.Raised) ?? raised;
            cell = (ushort)(IsInverted ? GreatestValue - value : value);
        }
    }

    /// <summary>How the file asks to be shown at first: by its first table of shades, or else its first window; neither changes a kept value.</summary>
    /// <remarks>PS3.3, C.11.2.1: a table and a window are two ways to show the same film, and either may be taken. The table says more.</remarks>
    /// <param name="elements">The file's elements.</param>
    /// <param name="notices">Where notices go.</param>
    /// <returns>The window, or null; and the curve of shades, null where it is straight.</returns>
    public (GreyWindow? Window, GreyCurve? Curve) Look(DicomElements elements, List<string> notices)
    {
        if (elements.Has(DicomTag.WindowTable))
        {
            if (FromTable(elements) is { } shown)
            {
                return shown;
            }

            notices.Add(FilmNotices.ShownTableNotApplied);
        }

        if (elements.Decimals(DicomTag.WindowCentre) is not [var centre, ..] || elements.Decimals(DicomTag.WindowWidth) is not [var width, ..])
        {
            return (null, null);
        }

        // PS3.3, C.11.2.1.2: a width is never less than 1, and of LINEAR_EXACT and SIGMOID more than 0.
        if (width <= 0)
        {
            notices.Add(FilmNotices.WindowIgnored(width));
            return (null, null);
        }

        // PS3.3, C.11.2.1.2 and 3: the default LINEAR spans c − 0.5 ± (w − 1)/2; LINEAR_EXACT, and the middle of SIGMOID, c ± w/2.
        var function = elements.Text(DicomTag.WindowFunction);
        var isExact = function is "LINEAR_EXACT" or "SIGMOID";
        var middle = isExact ? centre : centre - 0.5;
        var half = isExact ? width / 2 : (width - 1) / 2;
        var window = Between(middle - half, middle + half);
        return (window, window is not null && function == "SIGMOID" ? Curve(output => 1 / (1 + Math.Exp(-4 * (output - centre) / width))) : null);
    }

    // PS3.3, C.8.11.3: the shape decides what the output is; where there is none, the kind does.
    private static bool IsDarker(DicomElements elements, DicomPicture picture, List<string> notices)
    {
        bool? byShape = elements.Text(DicomTag.PresentationShape) switch { "INVERSE" => true, "IDENTITY" => false, _ => null };
        if (byShape is { } stated && stated != picture.LargerIsDarker)
        {
            notices.Add(FilmNotices.ShapeAgainstKind);
            return stated;
        }

        return picture.LargerIsDarker;
    }

    private (GreyWindow? Window, GreyCurve? Curve)? FromTable(DicomElements elements)
    {
        var mayBeNegative = Table is null && (Picture.IsSigned || Rescale.Intercept < 0 || Rescale.IsFalling);
        if (DicomTable.Read(elements, DicomTag.WindowTable, mayBeNegative) is not { } shown || !shown.Outputs.AsSpan().ContainsAnyExcept(shown.Outputs[0]))
        {
            return null;
        }

        // The window is where shades change: between the last of the first shade and the first of the last.
        var outputs = shown.Outputs.AsSpan();
        var (first, last) = (outputs[0], outputs[^1]);
        var from = outputs.IndexOfAnyExcept(first) - 1;
        var to = outputs.LastIndexOfAnyExcept(last) + 1;
        if (Between(shown.First + from, shown.First + to) is not { } window)
        {
            return null;
        }

        // A window shows the same where the table runs straight from black to white.
        var white = shown.GreatestOutput;
        for (var i = from; i <= to; i++)
        {
            if (Math.Abs(outputs[i] - ((double)white * (i - from) / (to - from))) > OneShade * white)
            {
                return (window, Curve(output => (double)shown.Of(output) / white));
            }
        }

        return (window, null);
    }

    private GreyCurve Curve(Func<double, double> share)
    {
        var turned = IsInverted != Rescale.IsFalling;
        var shades = new byte[GreatestValue + 1];
        for (var kept = 0; kept < shades.Length; kept++)
        {
            var value = IsInverted ? GreatestValue - kept : kept;
            var output = Table is null ? Rescale.Of(value - Picture.Raised) : value;
            shades[kept] = (byte)Math.Round(255 * (turned ? 1 - share(output) : share(output)), MidpointRounding.AwayFromZero);
        }

        return new GreyCurve(shades);
    }

    private GreyWindow? Between(double from, double to)
    {
        var (one, other) = (Kept(from), Kept(to));
        var (black, white) = (Math.Min(one, other), Math.Max(one, other));
        return from < to && double.IsFinite(black) && double.IsFinite(white) && black < white ? new GreyWindow(black, white) : null;
    }

    private double Kept(double output)
    {
        var value = Table is null ? Rescale.ToStored(output) + Picture.Raised : output;
        return IsInverted ? GreatestValue - value : value;
    }
}
