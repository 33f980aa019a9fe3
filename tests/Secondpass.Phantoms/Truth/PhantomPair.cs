using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Imaging;

namespace Secondpass.Phantoms.Truth;

/// <summary>What differs between the film before and the film after, besides the canals.</summary>
public sealed record PairChange
{
    /// <summary>The same film position, beam and processing; only the noise is new.</summary>
    public static PairChange None { get; } = new();

    /// <summary>Turn of the tube about the tooth's long axis in degrees.</summary>
    public double HorizontalDegrees { get; init; }

    /// <summary>Turn of the tube about the mesiodistal axis in degrees.</summary>
    public double VerticalDegrees { get; init; }

    /// <summary>Turn of the film in its plane in degrees.</summary>
    public double RotationDegrees { get; init; }

    /// <summary>Move of the picture to the right in pixels.</summary>
    public double ShiftX { get; init; }

    /// <summary>Move of the picture down in pixels.</summary>
    public double ShiftY { get; init; }

    /// <summary>Added distance from tooth to film in mm: changes the scale.</summary>
    public double ToothToFilmMillimetres { get; init; }

    /// <summary>Size of the pixels after in mm; null: as before.</summary>
    public double? PixelSize { get; init; }

    /// <summary>Columns and rows cut off in all on the film after, in pixels; its middle stays.</summary>
    public int CroppedPixels { get; init; }

    /// <summary>Factor on the photons.</summary>
    public double ExposureFactor { get; init; } = 1;

    /// <summary>Gamma of the film after; null: as before.</summary>
    public double? Gamma { get; init; }

    /// <summary>Bits of the film after; null: as before.</summary>
    public int? Bits { get; init; }

    /// <summary>Whether the film after shows radiopaque dark where the film before shows it light.</summary>
    public bool Inverted { get; init; }

    /// <summary>Draws a change such as two films of one patient show.</summary>
    /// <param name="seed">The seed.</param>
    /// <param name="size">1 for a careful second film (angles to about 3°), 2 for a careless one (to about 6°), and so on.</param>
    public static PairChange Drawn(int seed, double size = 1)
    {
        var random = new PhantomRandom(seed, 4242);
        return new PairChange
        {
            HorizontalDegrees = random.Between(-3, 3) * size,
            VerticalDegrees = random.Between(-3, 3) * size,
            RotationDegrees = random.Between(-4, 4) * size,
            ShiftX = random.Between(-40, 40) * size,
            ShiftY = random.Between(-40, 40) * size,
            ToothToFilmMillimetres = random.Between(-2, 2) * size,
            CroppedPixels = random.Chance(0.3) ? random.Whole(20, 120) : 0,
            ExposureFactor = Math.Pow(2, random.Between(-0.5, 0.5) * size),
            Gamma = Math.Pow(2, random.Between(-0.3, 0.3) * size),
        };
    }
}

/// <summary>What a pair is made of.</summary>
public sealed record PairOptions
{
    /// <summary>Kind of tooth; null: drawn.</summary>
    public ToothKind? Kind { get; init; }

    /// <summary>What of the tooth is chosen.</summary>
    public ToothOptions Tooth { get; init; } = new();

    /// <summary>Share of each branch's filling that is left, 0 to 1; null: drawn per branch, from nothing to everything.</summary>
    public double? Residual { get; init; }

    /// <summary>Share by branch name; goes before <see cref="Residual"/>.</summary>
    public IReadOnlyDictionary<string, double>? ResidualOf { get; init; }

    /// <summary>What is left, given the tooth; goes before both shares.</summary>
    public Func<PhantomTooth, Residue>? Residue { get; init; }

    /// <summary>What changes between the films; null: drawn.</summary>
    public PairChange? Change { get; init; }

    /// <summary>Changes the geometry of the film before (standing as films of the tooth are shown).</summary>
    public Func<FilmGeometry, FilmGeometry> Geometry { get; init; } = geometry => geometry;

    /// <summary>Exposure of the film before.</summary>
    public Exposure Exposure { get; init; } = new();

    /// <summary>Changes what stands in the tooth on the film after, given the opened and partly emptied tooth.</summary>
    public Func<PhantomContents, PhantomContents> After { get; init; } = contents => contents;

    /// <summary>Pieces of filling that were moved, given the tooth; null for none. What is left of the filling in its place is not changed by them.</summary>
    public Func<PhantomTooth, IReadOnlyList<MovedPlug>>? Moved { get; init; }

    /// <summary>Whether the tooth is left unopened and the canals untouched on the film after: the same tooth taken twice.</summary>
    public bool Untouched { get; init; }
}

/// <summary>Two simulated films with everything that is true of them. Everything is invented.</summary>
/// <param name="Before">The film before.</param>
/// <param name="After">The film after.</param>
/// <param name="Truth">What is true of the pair; for films that can't be compared, of the film before with itself.</param>
public sealed record PhantomPair(PhantomFilm Before, PhantomFilm After, PairTruth Truth)
{
    /// <summary>Makes a pair of films of one tooth.</summary>
    /// <param name="seed">Everything not chosen follows from it.</param>
    /// <param name="options">What is chosen.</param>
    public static PhantomPair Make(int seed, PairOptions? options = null)
    {
        options ??= new PairOptions();
        var random = new PhantomRandom(seed, 77);
        var kind = options.Kind ?? (ToothKind)random.Whole(0, 4);
        var tooth = PhantomTooth.Build(kind, seed, options.Tooth);
        var change = options.Change ?? PairChange.Drawn(seed);
        var before = options.Geometry(FilmGeometry.For(tooth));
        var residue = options.Untouched ? Residue.Everything(tooth) : Left(tooth, seed, random, options);
        var contents = options.Untouched
            ? PhantomContents.Before(tooth)
            : PhantomContents.After(residue, random.Between(0, 0.15), random.Chance(0.5) ? CanalMedium.Air : CanalMedium.Irrigant);
        if (options.Moved is { } moved)
        {
            contents = contents with { Moved = moved(tooth) };
        }

        var after = Changed(before, change);
        return new PhantomPair(
            FilmSimulator.Render(tooth, before, options.Exposure, PhantomContents.Before(tooth), unchecked((seed * 2) + 1)),
            FilmSimulator.Render(tooth, after, Changed(options.Exposure, change), options.After(contents), unchecked((seed * 2) + 2)),
            PairTruth.Of(tooth, before, after, residue));
    }

    /// <summary>A pair whose film after shows another tooth of the same kind.</summary>
    public static PhantomPair OfTwoTeeth(int seed, PairOptions? options = null)
    {
        var pair = Make(seed, options);
        var other = PhantomTooth.Build(pair.Before.Tooth.Kind, unchecked(seed + 100_003));
        var contents = pair.After.Contents with { Residue = Residue.Drawn(other, seed, 0.2) };
        return pair with { After = FilmSimulator.Render(other, pair.After.Geometry, pair.After.Exposure, contents, seed) };
    }

    /// <summary>A pair whose film after was turned over: left and right are exchanged.</summary>
    public static PhantomPair WithMirroredAfter(int seed, PairOptions? options = null)
    {
        var pair = Make(seed, options);
        var geometry = pair.After.Geometry with { Mirrored = !pair.After.Geometry.Mirrored };
        return pair with { After = FilmSimulator.Render(pair.After.Tooth, geometry, pair.After.Exposure, pair.After.Contents, seed) };
    }

    /// <summary>A pair whose film after shows the place beside the tooth: the canals are not on it.</summary>
    public static PhantomPair WithoutOverlap(int seed, PairOptions? options = null)
    {
        var pair = Make(seed, options);
        var geometry = pair.After.Geometry with { ShiftX = pair.After.Geometry.Width, ShiftY = pair.After.Geometry.Height * 0.4 };
        return pair with { After = FilmSimulator.Render(pair.After.Tooth, geometry, pair.After.Exposure, pair.After.Contents, seed) };
    }

    /// <summary>The canals as a dentist would mark them on the film before: filled branches, ends and a few pins.</summary>
    /// <param name="pinsBetween">Marks between the ends.</param>
    /// <param name="jitterPixels">How far off the marks are: standard deviation in pixels.</param>
    /// <param name="seed">The jitter follows from it.</param>
    /// <param name="unfilledToo">Whether unfilled branches are marked as well.</param>
    public IReadOnlyList<CanalClicks> Clicks(int pinsBetween = 1, double jitterPixels = 0, int seed = 1, bool unfilledToo = false)
    {
        var random = new PhantomRandom(seed, 31);
        return [.. Truth.Branches.Where(branch => branch.OnBefore.Canal.Parent is null && (unfilledToo || branch.OnBefore.Canal.IsFilled)).Select(ClicksOf)];

        CanalClicks ClicksOf(BranchTruth branch)
        {
            var path = branch.OnBefore.Path;
            var from = branch.OnBefore.OwnFromPixels;
            var pins = Enumerable.Range(0, pinsBetween + 2)
                .Select(i => path.At(from + ((path.LengthPixels - from) * i / (pinsBetween + 1))))
                .Select(place => new Pin(new PixelPoint(place.X + (jitterPixels * random.NextNormal()), place.Y + (jitterPixels * random.NextNormal())), PinStrength.Soft))
                .ToList();
            var below = Truth.Branches.Where(child => child.OnBefore.Canal.Parent == branch.Name).Select(ClicksOf).ToList();
            return new CanalClicks(branch.Name, pins, below);
        }
    }

    private static Residue Left(PhantomTooth tooth, int seed, PhantomRandom random, PairOptions options)
    {
        if (options.Residue is not null)
        {
            return options.Residue(tooth);
        }

        if (options.ResidualOf is not null)
        {
            return Residue.Drawn(tooth, seed, options.ResidualOf);
        }

        // Clean canals and untouched ones come up as often as what lies between.
        var shares = tooth.FilledCanals.ToDictionary(canal => canal.Name, _ =>
            options.Residual ?? (random.Next() switch
            {
                < 0.15 => 0,
                < 0.25 => 1,
                < 0.70 => random.Between(0.01, 0.3),
                _ => random.Between(0.3, 1),
            }));
        return Residue.Drawn(tooth, seed, shares);
    }

    private static FilmGeometry Changed(FilmGeometry geometry, PairChange change) =>
        geometry with
        {
            HorizontalDegrees = geometry.HorizontalDegrees + change.HorizontalDegrees,
            VerticalDegrees = geometry.VerticalDegrees + change.VerticalDegrees,
            RotationDegrees = geometry.RotationDegrees + change.RotationDegrees,
            ShiftX = geometry.ShiftX + change.ShiftX,
            ShiftY = geometry.ShiftY + change.ShiftY,
            ToothToFilm = geometry.ToothToFilm + change.ToothToFilmMillimetres,
            PixelSize = change.PixelSize ?? geometry.PixelSize,
            Width = geometry.Width - change.CroppedPixels,
            Height = geometry.Height - change.CroppedPixels,
        };

    private static Exposure Changed(Exposure exposure, PairChange change) =>
        exposure with
        {
            PhotonsPerPixel = exposure.PhotonsPerPixel * change.ExposureFactor,
            Gamma = change.Gamma ?? exposure.Gamma,
            Bits = change.Bits ?? exposure.Bits,
            Inverted = exposure.Inverted != change.Inverted,
        };
}
