namespace Secondpass.Exchange.Pictures;

/// <summary>Cuts hatching out of shapes once, so that every painter draws the same lines and none needs patterns.</summary>
internal static class Hatching
{
    /// <summary>Lines of one family that lie inside the shapes, by the even-odd rule.</summary>
    /// <param name="rings">Closed rings, in units.</param>
    /// <param name="angleDegrees">Direction, anticlockwise from the right.</param>
    /// <param name="pitch">Distance between neighbouring lines, in units; they lie at whole multiples of it, so that shapes side by side hatch alike.</param>
    public static IEnumerable<(PicturePoint From, PicturePoint To)> Lines(
        IReadOnlyList<IReadOnlyList<PicturePoint>> rings, double angleDegrees, double pitch)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(pitch);
        var (sin, cos) = Math.SinCos(double.DegreesToRadians(angleDegrees));

        var crossings = new SortedDictionary<int, List<double>>();
        foreach (var ring in rings)
        {
            for (var i = 0; i < ring.Count; i++)
            {
                AddCrossings(crossings, Along(ring[i]), Along(ring[(i + 1) % ring.Count]), pitch);
            }
        }

        foreach (var (line, places) in crossings)
        {
            places.Sort();
            for (var i = 0; i + 1 < places.Count; i += 2)
            {
                if (places[i + 1] > places[i])
                {
                    yield return (Back(places[i], line * pitch), Back(places[i + 1], line * pitch));
                }
            }
        }

        // y runs down, so an anticlockwise direction is (cos, −sin); "across" is what stays constant on a line.
        (double Along, double Across) Along(PicturePoint point) =>
            ((point.X * cos) - (point.Y * sin), (point.X * sin) + (point.Y * cos));

        PicturePoint Back(double along, double across) =>
            new((along * cos) + (across * sin), (across * cos) - (along * sin));
    }

    private static void AddCrossings(
        SortedDictionary<int, List<double>> crossings,
        (double Along, double Across) from,
        (double Along, double Across) to,
        double pitch)
    {
        if (from.Across > to.Across)
        {
            (from, to) = (to, from);
        }

        // Half open: a corner that lies exactly on a line counts once.
        var first = (int)Math.Ceiling(from.Across / pitch);
        for (var line = first; line * pitch < to.Across; line++)
        {
            var share = ((line * pitch) - from.Across) / (to.Across - from.Across);
            if (!crossings.TryGetValue(line, out var places))
            {
                crossings[line] = places = [];
            }

            places.Add(from.Along + (share * (to.Along - from.Along)));
        }
    }
}
