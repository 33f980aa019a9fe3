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

    /// <summary>The first window that the file states, or the one from black to white of its first table; or null.</summary>
    /// <param name="elements">The file's elements.</param>
    /// <param name="notices">Where notices go.</param>
    public GreyWindow? Window(DicomElements elements, List<string> notices)
    {
        if (elements.Decimals(DicomTag.WindowCentre) is [var centre, ..] && elements.Decimals(DicomTag.WindowWidth) is [var width, ..])
        {
            // PS3.3, C.11.2.1.2: the default LINEAR spans c − 0.5 ± (w − 1)/2; LINEAR_EXACT, and the middle of SIGMOID, c ± w/2.
            var isExact = elements.Text(DicomTag.WindowFunction) is "LINEAR_EXACT" or "SIGMOID";
            var middle = isExact ? centre : centre - 0.5;
            var half = isExact ? width / 2 : (width - 1) / 2;
            return Between(middle - half, middle + half);
        }

        return elements.Has(DicomTag.WindowTable) ? FromTable(elements, notices) : null;
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

    private GreyWindow? FromTable(DicomElements elements, List<string> notices)
    {
        var mayBeNegative = Table is null && (Picture.IsSigned || Rescale.Intercept < 0 || Rescale.IsFalling);
        if (DicomTable.Read(elements, DicomTag.WindowTable, mayBeNegative) is not { } shown || shown.Outputs[0] >= shown.Outputs[^1])
        {
            notices.Add(FilmNotices.ShownTableNotApplied);
            return null;
        }

        var outputs = shown.Outputs.AsSpan();
        var (darkest, lightest) = (outputs[0], outputs[^1]);
        var black = outputs.IndexOfAnyExcept(darkest) - 1;
        var white = outputs.LastIndexOfAnyExcept(lightest) + 1;
        for (var i = black; i <= white; i++)
        {
            var straight = darkest + ((double)(lightest - darkest) * (i - black) / (white - black));
            if (Math.Abs(outputs[i] - straight) > OneShade * shown.GreatestOutput)
            {
                notices.Add(FilmNotices.ShownTableStraightened);
                break;
            }
        }

        return Between(shown.First + black, shown.First + white);
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
