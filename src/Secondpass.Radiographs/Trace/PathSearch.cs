using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>Finds the way along a filling from mark to mark over the pixels of a film.</summary>
internal sealed class PathSearch
{
    /// <summary>How far a soft pin and the orifice may be off, in pixels.</summary>
    public const double CapturePixels = 8;

    /// <summary>Cost of a pixel without any ridge, relative to one on a full ridge: how long a detour along a filling may be.</summary>
    public const float FlatCost = 6;

    private const int MarginPixels = 90;

    /// <summary>Line strength, relative to a filling's, that bone and noise reach as well: below it there is no line, and the way runs straight.</summary>
    private const float NoLine = 0.22f;

    /// <summary>How far a canal usually strays from the straight line between two marks, as a share of its length.</summary>
    private const double UsualStrayShare = 0.14;

    /// <summary>Length of the arms between which a turn is judged, in pixels: about a millimetre.</summary>
    private const double ArmPixels = 30;

    /// <summary>A turn, in radians, that no canal makes within a millimetre or two.</summary>
    private const double LeastSharpTurn = 1.1;

    /// <summary>How much an unfilled canal, a faint line of the other kind, draws the way, relative to a filling.</summary>
    private const float UnfilledShare = 0.25f;

    /// <summary>How much stronger than any bright line a filling on an inverted film is: 1.3 times at least on films of seeds 100 to 159 of the second generator, inverted.</summary>
    private const double LeastInvertedShare = 1.25;

    /// <summary>Share of the pixels around that are darker than a filling on an inverted film: 0.20 at most on those; 0.4 and more than an unfilled canal.</summary>
    private const double DarkerThanBone = 0.3;

    private readonly IReadOnlyList<Pin> pins;
    private readonly bool firstIsFixed;
    private readonly Frame frame;
    private readonly GreyImage grid;
    private readonly GreyImage brightRidge;
    private readonly GreyImage darkRidge;
    private Way? openBright;
    private Way? openDark;

    private PathSearch(IReadOnlyList<Pin> pins, bool firstIsFixed, Frame frame, GreyImage grid, GreyImage brightRidge, GreyImage darkRidge)
    {
        this.pins = pins;
        this.firstIsFixed = firstIsFixed;
        this.frame = frame;
        this.grid = grid;
        this.brightRidge = brightRidge;
        this.darkRidge = darkRidge;
    }

    /// <summary>Measures lines around the marks of a canal.</summary>
    /// <param name="film">Grey values on the film's own scale; the filling may be brighter or darker than dentine.</param>
    /// <param name="pins">At least two marks, orifice first.</param>
    /// <param name="firstIsFixed">Whether the first mark must not be captured, because it lies on a trunk.</param>
    public static PathSearch Around(GreyImage film, IReadOnlyList<Pin> pins, bool firstIsFixed = false)
    {
        var left = (int)Math.Floor(pins.Min(pin => pin.At.X)) - MarginPixels;
        var top = (int)Math.Floor(pins.Min(pin => pin.At.Y)) - MarginPixels;
        var right = (int)Math.Ceiling(pins.Max(pin => pin.At.X)) + MarginPixels;
        var bottom = (int)Math.Ceiling(pins.Max(pin => pin.At.Y)) + MarginPixels;
        (left, top) = (Math.Max(left, 0), Math.Max(top, 0));
        (right, bottom) = (Math.Min(right, film.Width - 1), Math.Min(bottom, film.Height - 1));
        var shrink = Math.Max(right - left, bottom - top) > 160 ? 2 : 1;
        var grid = Smooth.Shrink(film.Cut(left, top, right - left + 1, bottom - top + 1), shrink);
        var (brightRidge, darkRidge) = RidgeMeasure.Of(grid);
        return new PathSearch(pins, firstIsFixed, new Frame(left, top, shrink, grid.Width, grid.Height), grid, brightRidge, darkRidge);
    }

    /// <summary>The same search on the inverted film.</summary>
    public PathSearch Inverted() => new(pins, firstIsFixed, frame, grid, darkRidge, brightRidge) { openBright = openDark, openDark = openBright };

    /// <summary>A search between other marks over the same part of the film.</summary>
    /// <param name="others">At least two marks.</param>
    public PathSearch Between(IReadOnlyList<Pin> others) => new(others, true, frame, grid, brightRidge, darkRidge);

    /// <summary>What a way costs that was found over this part of the film: the less, the more of it runs along fillings.</summary>
    /// <param name="places">Places of the way, about a pixel apart.</param>
    public double CostAlongBright(IReadOnlyList<PixelPoint> places)
    {
        var cost = Costs(brightRidge, darkRidge);
        double sum = 0;
        for (var i = 1; i < places.Count; i++)
        {
            var (x, y) = frame.ToGrid(places[i]);
            sum += cost[(y * frame.Width) + x] * places[i].DistanceTo(places[i - 1]);
        }

        return sum;
    }

    /// <summary>Tells whether fillings are brighter than dentine.</summary>
    /// <returns>The answer, how strong the line is that says so, in grey levels, and how strong a line of the other kind is beside it, as a share of that.</returns>
    public (bool BrightLine, double Strength, double OtherShare) Tell()
    {
        // An unfilled canal is a dark line that is lighter than bone; a filling on an inverted film is darker than nearly everything around it.
        Parallel.Invoke(
            () => openBright ??= Through(brightRidge, darkRidge, []),
            () => openDark ??= Through(darkRidge, brightRidge, []));
        var (bright, dark) = (openBright!, openDark!);
        var ranks = Ranks.OfImage(grid, [0.02, DarkerThanBone, 0.98]);
        var along = Ranks.Median([.. dark.Places.Select(place => frame.ToGrid(place)).Select(at => (double)grid[at.X, at.Y])]);
        return dark.Strength > LeastInvertedShare * bright.Strength && dark.Strength > 0.035 * (ranks[2] - ranks[0]) && along < ranks[1]
            ? (false, dark.Strength, bright.Strength / dark.Strength)
            : (true, bright.Strength, dark.Strength / Math.Max(1e-9, bright.Strength));
    }

    /// <summary>Finds the way along a filling that is brighter than dentine.</summary>
    /// <param name="avoided">Places that belong to another branch of the same canal.</param>
    /// <returns>Places from first to last mark, about a pixel apart.</returns>
    public List<PixelPoint> AlongBright(IReadOnlyList<Detour> avoided) =>
        (avoided.Count == 0 ? openBright ??= Through(brightRidge, darkRidge, []) : Through(brightRidge, darkRidge, avoided)).Places;

    private static float[] Costs(GreyImage ridge, GreyImage opposite)
    {
        var full = Math.Max(1e-3f, (float)Ranks.OfImage(ridge, [0.97], 3)[0]);
        var cost = new float[ridge.Values.Length];
        for (var i = 0; i < cost.Length; i++)
        {
            var line = Math.Clamp(((ridge.Values[i] / full) - NoLine) / (1 - NoLine), 0f, 1f);
            var lumen = UnfilledShare * Math.Clamp((opposite.Values[i] / full) - NoLine, 0f, 1f);
            cost[i] = 1f / ((1f / FlatCost) + Math.Max(line, lumen));
        }

        return cost;
    }

    private Way Through(GreyImage ridge, GreyImage opposite, IReadOnlyList<Detour> avoided)
    {
        var cost = Costs(ridge, opposite);
        foreach (var detour in avoided)
        {
            Close(cost, frame, detour.At, detour.RadiusPixels);
        }

        var marks = new List<(int X, int Y)>(pins.Count);
        for (var i = 0; i < pins.Count; i++)
        {
            var pixel = frame.ToGrid(pins[i].At);
            var captured = i == pins.Count - 1 || pins[i].Strength == PinStrength.Hard || (i == 0 && firstIsFixed)
                ? pixel
                : Cheapest(cost, frame, pixel, CapturePixels / frame.Shrink);
            marks.Add(captured);
        }

        var best = Run(ridge, cost, frame, marks);
        for (var attempt = 0; attempt < 2; attempt++)
        {
            var (turn, at) = SharpestTurn(best.Places);
            if (turn < LeastSharpTurn)
            {
                break;
            }

            // Canals don't turn like this: the way took a neighbour's filling and jumped over. Close the corner and look again.
            Close(cost, frame, at, ArmPixels / 2);
            var other = Run(ridge, cost, frame, marks);
            if (SharpestTurn(other.Places).Turn < turn)
            {
                best = other;
            }
        }

        return best;
    }

    private static Way Run(GreyImage ridge, float[] cost, Frame frame, List<(int X, int Y)> marks)
    {
        var places = new List<PixelPoint>();
        double strength = 0;
        var counted = 0;
        for (var i = 1; i < marks.Count; i++)
        {
            var (pixels, _) = MinimalPath.Find(NearChord(cost, frame, marks[i - 1], marks[i]), frame.Width, frame.Height, marks[i - 1], marks[i]);
            foreach (var pixel in pixels)
            {
                var place = frame.ToFilm(pixel);
                strength += ridge[pixel.X, pixel.Y];
                counted++;
                if (places.Count == 0 || places[^1].DistanceTo(place) > 0.1)
                {
                    places.Add(place);
                }
            }
        }

        return new Way(places, strength / Math.Max(1, counted));
    }

    /// <summary>
    /// Makes ways dearer the further they stray from the straight line between two marks: canals curve by a tenth of their
    /// length, the filling of a neighbouring root lies further off.
    /// </summary>
    private static float[] NearChord(float[] cost, Frame frame, (int X, int Y) from, (int X, int Y) to)
    {
        double dx = to.X - from.X, dy = to.Y - from.Y;
        var length = Math.Max(1, double.Hypot(dx, dy));
        var usual = (UsualStrayShare * length) + (10.0 / frame.Shrink);
        var dearer = new float[cost.Length];
        Parallel.For(0, frame.Height, y =>
        {
            for (var x = 0; x < frame.Width; x++)
            {
                var across = (((x - from.X) * dy) - ((y - from.Y) * dx)) / length / usual;
                dearer[(y * frame.Width) + x] = cost[(y * frame.Width) + x] * (float)(1 + (0.5 * across * across));
            }
        });
        return dearer;
    }

    /// <summary>The sharpest turn between the two arms of about 30 pixels that meet at a place of the way, in radians.</summary>
    private static (double Turn, PixelPoint At) SharpestTurn(List<PixelPoint> places)
    {
        var arm = 1;
        for (double reached = 0; arm < places.Count - 1 && reached < ArmPixels; arm++)
        {
            reached += places[arm].DistanceTo(places[arm - 1]);
        }

        var sharpest = (Turn: 0.0, At: places[0]);
        for (var i = arm; i < places.Count - arm; i++)
        {
            var before = places[i] - places[i - arm];
            var after = places[i + arm] - places[i];
            var turn = Math.Abs(Math.Atan2((before.X * after.Y) - (before.Y * after.X), (before.X * after.X) + (before.Y * after.Y)));
            if (turn > sharpest.Turn)
            {
                sharpest = (turn, places[i]);
            }
        }

        return sharpest;
    }

    private static void Close(float[] cost, Frame frame, PixelPoint at, double radiusPixels)
    {
        var middle = frame.ToGrid(at);
        var reach = (int)Math.Ceiling(radiusPixels / frame.Shrink);
        for (var y = Math.Max(0, middle.Y - reach); y <= Math.Min(frame.Height - 1, middle.Y + reach); y++)
        {
            for (var x = Math.Max(0, middle.X - reach); x <= Math.Min(frame.Width - 1, middle.X + reach); x++)
            {
                if (double.Hypot(x - middle.X, y - middle.Y) <= reach)
                {
                    cost[(y * frame.Width) + x] = 4 * FlatCost;
                }
            }
        }
    }

    private static (int X, int Y) Cheapest(float[] cost, Frame frame, (int X, int Y) around, double reach)
    {
        var best = around;
        var least = float.PositiveInfinity;
        var whole = (int)Math.Ceiling(reach);
        for (var y = Math.Max(0, around.Y - whole); y <= Math.Min(frame.Height - 1, around.Y + whole); y++)
        {
            for (var x = Math.Max(0, around.X - whole); x <= Math.Min(frame.Width - 1, around.X + whole); x++)
            {
                var distance = double.Hypot(x - around.X, y - around.Y);

                // Nearer places win among equals, so that a mark on a broad filling stays where it was set.
                var price = cost[(y * frame.Width) + x] * (float)(1 + (0.15 * distance / reach));
                if (distance <= reach && price < least)
                {
                    least = price;
                    best = (x, y);
                }
            }
        }

        return best;
    }

    /// <summary>A disc that the way goes around where it can.</summary>
    internal readonly record struct Detour(PixelPoint At, double RadiusPixels);

    /// <summary>Places from mark to mark, and the mean strength of the line below them.</summary>
    private sealed record Way(List<PixelPoint> Places, double Strength);

    private readonly record struct Frame(int Left, int Top, int Shrink, int Width, int Height)
    {
        private double HalfStep => (Shrink - 1) / 2.0;

        public (int X, int Y) ToGrid(PixelPoint place) => (
            Math.Clamp((int)Math.Round((place.X - Left - HalfStep) / Shrink, MidpointRounding.AwayFromZero), 0, Width - 1),
            Math.Clamp((int)Math.Round((place.Y - Top - HalfStep) / Shrink, MidpointRounding.AwayFromZero), 0, Height - 1));

        public PixelPoint ToFilm((int X, int Y) pixel) => new(
            (pixel.X * Shrink) + HalfStep + Left,
            (pixel.Y * Shrink) + HalfStep + Top);
    }
}
