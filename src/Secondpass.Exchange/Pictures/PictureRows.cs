namespace Secondpass.Exchange.Pictures;

/// <summary>Puts pictures together.</summary>
internal static class PictureRows
{
    private const double Gap = 16;

    /// <summary>A picture, and below it others in two columns, all on one picture with a margin.</summary>
    /// <param name="top">The picture that spans the width.</param>
    /// <param name="rest">The pictures below, left to right, row by row.</param>
    public static Picture Below(Picture top, IReadOnlyList<Picture> rest)
    {
        var columnWidth = (top.Width - Gap) / 2;
        var marks = new List<PictureMark>(top.Marks.Select(mark => mark.Moved(1, Gap, Gap)));
        var y = Gap + top.Height + Gap;
        foreach (var row in rest.Chunk(2))
        {
            for (var column = 0; column < row.Length; column++)
            {
                marks.AddRange(Placed(row[column], Gap + (column * (columnWidth + Gap)), y, columnWidth));
            }

            y += row.Max(picture => picture.Height * columnWidth / picture.Width) + Gap;
        }

        return top with { Width = top.Width + (2 * Gap), Height = y, Marks = marks, Description = Together(top, rest) };
    }

    /// <summary>A picture, and beside it others below each other, all on one picture with a margin.</summary>
    /// <param name="left">The picture on the left.</param>
    /// <param name="rest">The pictures on the right.</param>
    /// <param name="restWidth">Width of the right column.</param>
    public static Picture Beside(Picture left, IReadOnlyList<Picture> rest, double restWidth)
    {
        var marks = new List<PictureMark>(left.Marks.Select(mark => mark.Moved(1, Gap, Gap)));
        var y = Gap;
        foreach (var picture in rest)
        {
            marks.AddRange(Placed(picture, left.Width + (2 * Gap), y, restWidth));
            y += (picture.Height * restWidth / picture.Width) + Gap;
        }

        return left with
        {
            Width = left.Width + restWidth + (3 * Gap),
            Height = Math.Max(left.Height + (2 * Gap), y),
            Marks = marks,
            Description = Together(left, rest),
        };
    }

    private static IEnumerable<PictureMark> Placed(Picture picture, double left, double top, double width) =>
        picture.Marks.Select(mark => mark.Moved(width / picture.Width, left, top));

    private static string Together(Picture first, IReadOnlyList<Picture> rest) =>
        string.Join(" ", rest.Select(picture => picture.Description).Prepend(first.Description).Where(text => text.Length > 0));
}
