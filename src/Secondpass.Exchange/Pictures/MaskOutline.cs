namespace Secondpass.Exchange.Pictures;

/// <summary>Walks round the edges of marked pixels.</summary>
internal static class MaskOutline
{
    /// <summary>Closed rings round all marked pixels and round the holes in them, corners cut at 45°.</summary>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    /// <param name="isMarked">Whether the pixel at a column and a row is marked.</param>
    /// <returns>Rings in pixels, where (0, 0) is the centre of the top left pixel.</returns>
    public static IReadOnlyList<IReadOnlyList<PicturePoint>> Rings(int width, int height, Func<int, int, bool> isMarked)
    {
        // An edge runs from corner to corner with the marked pixel on its right; a corner where two pixels touch diagonally starts two.
        var ends = new Dictionary<(int X, int Y), Queue<(int X, int Y)>>();
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                if (!isMarked(x, y))
                {
                    continue;
                }

                AddUnless(IsMarked(x, y - 1), (x, y), (x + 1, y));
                AddUnless(IsMarked(x + 1, y), (x + 1, y), (x + 1, y + 1));
                AddUnless(IsMarked(x, y + 1), (x + 1, y + 1), (x, y + 1));
                AddUnless(IsMarked(x - 1, y), (x, y + 1), (x, y));
            }
        }

        var rings = new List<IReadOnlyList<PicturePoint>>();
        foreach (var start in ends.Keys)
        {
            while (ends[start].Count > 0)
            {
                rings.Add(Walk(ends, start));
            }
        }

        return rings;

        bool IsMarked(int x, int y) => x >= 0 && y >= 0 && x < width && y < height && isMarked(x, y);

        void AddUnless(bool isInside, (int X, int Y) from, (int X, int Y) to)
        {
            if (!isInside)
            {
                if (!ends.TryGetValue(from, out var found))
                {
                    ends[from] = found = new Queue<(int X, int Y)>(1);
                }

                found.Enqueue(to);
            }
        }
    }

    private static List<PicturePoint> Walk(Dictionary<(int X, int Y), Queue<(int X, int Y)>> ends, (int X, int Y) start)
    {
        var ring = new List<PicturePoint>();
        var at = start;
        do
        {
            var next = ends[at].Dequeue();
            var middle = new PicturePoint(((at.X + next.X) / 2.0) - 0.5, ((at.Y + next.Y) / 2.0) - 0.5);
            if (ring.Count >= 2 && AreInLine(ring[^2], ring[^1], middle))
            {
                ring[^1] = middle;
            }
            else
            {
                ring.Add(middle);
            }

            at = next;
        }
        while (at != start);

        return ring;
    }

    private static bool AreInLine(PicturePoint first, PicturePoint second, PicturePoint third) =>
        Math.Abs(((second.X - first.X) * (third.Y - second.Y)) - ((second.Y - first.Y) * (third.X - second.X))) < 1e-9;
}
