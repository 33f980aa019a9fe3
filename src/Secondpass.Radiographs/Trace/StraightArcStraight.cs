using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Trace;

/// <summary>A line that runs straight, then along an arc of a circle, then straight on, each part tangent to the next.</summary>
/// <remarks>
/// Six parameters: x and y of its beginning in pixels, its first direction in radians, the levels in pixels at which the arc begins and
/// ends, and the turn in radians.
/// </remarks>
internal static class StraightArcStraight
{
    private const double SmallTurn = 1e-4;

    /// <summary>The place at a level.</summary>
    /// <param name="p">The six parameters.</param>
    /// <param name="level">Pixels along the line.</param>
    public static PixelPoint Place(double[] p, double level)
    {
        var (x, y, from, to, turn) = (p[0], p[1], p[3], Math.Max(p[4], p[3] + 1e-6), p[5]);
        var (sine, cosine) = Math.SinCos(p[2]);
        if (level <= from)
        {
            return new PixelPoint(x + (level * cosine), y + (level * sine));
        }

        var onArc = Math.Min(level, to) - from;
        var turned = turn * onArc / (to - from);
        var (ahead, aside) = Chord(turned);
        var (sineEnd, cosineEnd) = Math.SinCos(p[2] + turned);
        var rest = Math.Max(0, level - to);
        return new PixelPoint(
            x + (from * cosine) + (onArc * ((ahead * cosine) - (aside * sine))) + (rest * cosineEnd),
            y + (from * sine) + (onArc * ((ahead * sine) + (aside * cosine))) + (rest * sineEnd));
    }

    /// <summary>The place at a level, and how it moves with each parameter.</summary>
    /// <param name="p">The six parameters.</param>
    /// <param name="level">Pixels along the line.</param>
    /// <param name="slopes">Filled with the six derivatives of the place.</param>
    public static PixelPoint Place(double[] p, double level, Span<PixelPoint> slopes)
    {
        var place = Place(p, level);
        var (from, to, turn) = (p[3], Math.Max(p[4], p[3] + 1e-6), p[5]);
        slopes[0] = new PixelPoint(1, 0);
        slopes[1] = new PixelPoint(0, 1);
        slopes[2] = new PixelPoint(p[1] - place.Y, place.X - p[0]);
        slopes[3] = slopes[4] = slopes[5] = default;
        if (level <= from)
        {
            return place;
        }

        var (sine, cosine) = Math.SinCos(p[2]);
        var arc = to - from;
        var onArc = Math.Min(level, to) - from;
        var turned = turn * onArc / arc;
        var (sineEnd, cosineEnd) = Math.SinCos(p[2] + turned);
        var first = new PixelPoint(cosine, sine);
        var last = new PixelPoint(cosineEnd, sineEnd);
        var bent = Rotated(ChordSlope(turned)) * onArc;
        if (level <= to)
        {
            // A longer arc of the same turn bends less.
            var less = bent * (turned / arc);
            slopes[3] = first - last + less;
            slopes[4] = less * -1;
            slopes[5] = bent * (onArc / arc);
            return place;
        }

        var chord = Rotated(Chord(turn));
        slopes[3] = first - chord;
        slopes[4] = chord - last;
        slopes[5] = bent + (new PixelPoint(-last.Y, last.X) * (level - to));
        return place;

        PixelPoint Rotated((double Ahead, double Aside) local) =>
            new((local.Ahead * cosine) - (local.Aside * sine), (local.Ahead * sine) + (local.Aside * cosine));
    }

    /// <summary>The chord of an arc of length 1 along and across its first direction.</summary>
    private static (double Ahead, double Aside) Chord(double turned) =>
        Math.Abs(turned) < SmallTurn
            ? (1 - (turned * turned / 6), turned / 2)
            : (Math.Sin(turned) / turned, (1 - Math.Cos(turned)) / turned);

    /// <summary>How <see cref="Chord"/> changes with the turn.</summary>
    private static (double Ahead, double Aside) ChordSlope(double turned)
    {
        if (Math.Abs(turned) < SmallTurn)
        {
            return (-turned / 3, 0.5 - (turned * turned / 8));
        }

        var (sine, cosine) = Math.SinCos(turned);
        return (((turned * cosine) - sine) / (turned * turned), ((turned * sine) - 1 + cosine) / (turned * turned));
    }
}
