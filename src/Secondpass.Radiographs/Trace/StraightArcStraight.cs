using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Trace;

/// <summary>A line that runs straight, then along an arc of a circle, then straight on, each part tangent to the next.</summary>
/// <remarks>What does not change along the line is worked out once: a fit asks for thousands of its places.</remarks>
internal readonly struct StraightArcStraight
{
    private const double SmallTurn = 1e-4;

    private readonly PixelPoint begin;
    private readonly PixelPoint first;
    private readonly double from;
    private readonly double to;
    private readonly double turn;

    private readonly Arc whole;

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
        whole = Arc.After(first, turn);
    }

    /// <summary>The place at a level.</summary>
    /// <param name="level">Pixels along the line.</param>
    public PixelPoint Place(double level) => level <= from ? begin + (first * level) : Place(level, ArcTo(level));

    /// <summary>The place at a level, and how it moves with each parameter.</summary>
    /// <param name="level">Pixels along the line.</param>
    /// <param name="slopes">Filled with the six derivatives of the place.</param>
    public PixelPoint Place(double level, Span<PixelPoint> slopes)
    {
        var arc = level <= from ? default : ArcTo(level);
        var place = level <= from ? begin + (first * level) : Place(level, arc);
        slopes[0] = new PixelPoint(1, 0);
        slopes[1] = new PixelPoint(0, 1);
        slopes[2] = new PixelPoint(begin.Y - place.Y, place.X - begin.X);
        slopes[3] = slopes[4] = slopes[5] = default;
        if (level <= from)
        {
            return place;
        }

        var length = to - from;
        if (level <= to)
        {
            // A longer arc of the same turn bends less.
            var share = (level - from) / length;
            var bent = arc.ChordSlope * (level - from);
            var less = bent * (turn * share / length);
            slopes[3] = first - arc.Direction + less;
            slopes[4] = less * -1;
            slopes[5] = bent * share;
            return place;
        }

        slopes[3] = first - arc.Chord;
        slopes[4] = arc.Chord - arc.Direction;
        slopes[5] = (arc.ChordSlope * length) + (new PixelPoint(-arc.Direction.Y, arc.Direction.X) * (level - to));
        return place;
    }

    private Arc ArcTo(double level) => level < to ? Arc.After(first, turn * (level - from) / (to - from)) : whole;

    private PixelPoint Place(double level, Arc arc) =>
        begin + (first * from) + (arc.Chord * (Math.Min(level, to) - from)) + (arc.Direction * Math.Max(0, level - to));

    /// <summary>An arc of length 1.</summary>
    /// <param name="Direction">Its last direction.</param>
    /// <param name="Chord">From its beginning to its end.</param>
    /// <param name="ChordSlope">How the chord changes with the turn.</param>
    private readonly record struct Arc(PixelPoint Direction, PixelPoint Chord, PixelPoint ChordSlope)
    {
        /// <summary>The arc that begins in a direction and turns by so many radians.</summary>
        public static Arc After(PixelPoint first, double turned)
        {
            var (sine, cosine) = Math.SinCos(turned);
            var small = Math.Abs(turned) < SmallTurn;
            return new Arc(
                Turned(cosine, sine),
                small ? Turned(1 - (turned * turned / 6), turned / 2) : Turned(sine / turned, (1 - cosine) / turned),
                small
                    ? Turned(-turned / 3, 0.5 - (turned * turned / 8))
                    : Turned(((turned * cosine) - sine) / (turned * turned), ((turned * sine) - 1 + cosine) / (turned * turned)));

            PixelPoint Turned(double ahead, double aside) => new((ahead * first.X) - (aside * first.Y), (ahead * first.Y) + (aside * first.X));
        }
    }
}
