using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Trace;

/// <summary>A line that runs straight, then along an arc of a circle, then straight on, each part tangent to the next.</summary>
/// <remarks>What does not change along the line is worked out once: a fit asks for thousands of its places.</remarks>
internal readonly struct StraightArcStraight
{
    private const double SmallTurn = 1e-4;

    private readonly PixelPoint begin;
    private readonly PixelPoint first;
    private readonly PixelPoint last;
    private readonly double from;
    private readonly double to;
    private readonly double turn;

    /// <summary>The whole arc's chord, per pixel of the arc's length, and how it changes with the turn.</summary>
    private readonly PixelPoint chord;
    private readonly PixelPoint chordSlope;

    /// <param name="p">
    /// Six parameters: x and y of its beginning in pixels, its first direction in radians, the levels in pixels at which the arc begins and
    /// ends, and the turn in radians.
    /// </param>
    public StraightArcStraight(double[] p)
    {
        begin = new PixelPoint(p[0], p[1]);
        (from, to, turn) = (p[3], Math.Max(p[4], p[3] + 1e-6), p[5]);
        var (sine, cosine) = Math.SinCos(p[2]);
        first = new PixelPoint(cosine, sine);
        var arc = Arc(turn);
        (last, chord, chordSlope) = (FromFirst(arc.Direction), FromFirst(arc.Chord), FromFirst(arc.Slope));
    }

    /// <summary>The place at a level.</summary>
    /// <param name="level">Pixels along the line.</param>
    public PixelPoint Place(double level)
    {
        if (level <= from)
        {
            return begin + (first * level);
        }

        return level <= to
            ? begin + (first * from) + (FromFirst(Arc(turn * (level - from) / (to - from)).Chord) * (level - from))
            : begin + (first * from) + (chord * (to - from)) + (last * (level - to));
    }

    /// <summary>The place at a level, and how it moves with each parameter.</summary>
    /// <param name="level">Pixels along the line.</param>
    /// <param name="slopes">Filled with the six derivatives of the place.</param>
    public PixelPoint Place(double level, Span<PixelPoint> slopes)
    {
        var length = to - from;
        slopes[0] = new PixelPoint(1, 0);
        slopes[1] = new PixelPoint(0, 1);
        slopes[3] = slopes[4] = slopes[5] = default;
        PixelPoint place;
        if (level <= from)
        {
            place = begin + (first * level);
        }
        else if (level <= to)
        {
            var onArc = level - from;
            var turned = turn * onArc / length;
            var arc = Arc(turned);
            place = begin + (first * from) + (FromFirst(arc.Chord) * onArc);

            // A longer arc of the same turn bends less.
            var bent = FromFirst(arc.Slope) * onArc;
            var less = bent * (turned / length);
            slopes[3] = first - FromFirst(arc.Direction) + less;
            slopes[4] = less * -1;
            slopes[5] = bent * (onArc / length);
        }
        else
        {
            place = begin + (first * from) + (chord * length) + (last * (level - to));
            slopes[3] = first - chord;
            slopes[4] = chord - last;
            slopes[5] = (chordSlope * length) + (new PixelPoint(-last.Y, last.X) * (level - to));
        }

        slopes[2] = new PixelPoint(begin.Y - place.Y, place.X - begin.X);
        return place;
    }

    /// <summary>An arc of length 1 that begins along the first axis: its last direction, its chord, and how the chord changes with the turn.</summary>
    private static (PixelPoint Direction, PixelPoint Chord, PixelPoint Slope) Arc(double turned)
    {
        var (sine, cosine) = Math.SinCos(turned);
        var direction = new PixelPoint(cosine, sine);
        return Math.Abs(turned) < SmallTurn
            ? (direction, new PixelPoint(1 - (turned * turned / 6), turned / 2), new PixelPoint(-turned / 3, 0.5 - (turned * turned / 8)))
            : (direction,
                new PixelPoint(sine / turned, (1 - cosine) / turned),
                new PixelPoint(((turned * cosine) - sine) / (turned * turned), ((turned * sine) - 1 + cosine) / (turned * turned)));
    }

    /// <summary>A vector given along and across the first direction.</summary>
    private PixelPoint FromFirst(PixelPoint local) =>
        new((local.X * first.X) - (local.Y * first.Y), (local.X * first.Y) + (local.Y * first.X));
}
