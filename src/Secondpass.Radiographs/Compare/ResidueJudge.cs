using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Register;

namespace Secondpass.Radiographs.Compare;

/// <summary>From straightened films to shares with intervals, branch by branch.</summary>
internal sealed class ResidueJudge(
    ComparisonRequest request,
    TracedBranch[] branches,
    RodCourse[] courses,
    LocalShifts[] shifts,
    CanalStrips[] strips,
    GlobalMatch match,
    GreyMatch grey,
    GreyMatch shown,
    GreyImage before,
    GreyImage after,
    double millimetresPerPixel)
{
    /// <summary>Scales the parts of a whole branch's deviation so that nineteen of twenty lie inside on simulated films with seeds 3000 to 3079 and 13000 to 13039.</summary>
    private const double WholeScale = 1.0;

    /// <summary>As <see cref="WholeScale"/>, for a third: its errors are not only greater, great ones are more frequent too.</summary>
    private const double ThirdScale = 1.12;

    /// <summary>As <see cref="WholeScale"/>, for the thickness that area is judged by.</summary>
    private const double ThicknessScale = 0.92;

    /// <summary>Area is a count of pixels near a threshold: it moves by this share even when nothing else is in doubt.</summary>
    private const double LeastAreaDeviation = 0.06;

    /// <summary>
    /// Deviation of a mass that lies wholly over another canal's, and the share of overlap from which on it is nearly that: films hold only
    /// the sum, and a quarter of a canal over another leaves much of its edge unread. Set on the first generator's seeds 3000 to 3069, 3160 to 3299, 13000 to 13049 and 13060 to 13139.
    /// </summary>
    private const double OverlappedDeviation = 0.28;

    private const double OverlapThatHides = 0.25;

    /// <summary>More than so much of a filling's mass either way and its mass is not worth a figure: the interval would say from little to most of it.</summary>
    private const double MostUndecided = 0.2;

    /// <summary>What white hides is mentioned from this share of a filling's mass on.</summary>
    private const double MentionedWhite = 0.02;

    /// <summary>How far what is hidden by white may be from what the rod beside it says: one standard deviation, as a share of what is hidden. An assumption, wide on purpose.</summary>
    private const double HiddenDeviation = 0.4;

    private readonly double leastThicknessPixels = MeasurementLimits.LeastResidueThickness.Value / millimetresPerPixel;

    public Comparison Judge(bool beforeInverted)
    {
        var noise = Noise();
        var readers = SideBySide.Each(strips, strip => new ResidueReader(strip, leastThicknessPixels, noise));
        var empties = SideBySide.Each(readers, reader => reader.Levels >= 4 ? EmptyCanalFinder.Find(reader) : []);
        var empty = empties.Select(EmptyCanals.Mean).ToArray();
        var results = SideBySide.Each([.. Enumerable.Range(0, branches.Length)], i => Branch(i, readers[i], empties[i], empty[i]));

        var rests = shifts.Select(shift => shift.RestRmsPixels).ToArray();
        var registration = new FilmRegistration(
            match.BeforeToAfter.Back().Matrix(),
            Math.Sqrt(rests.Select(rest => rest * rest).Average()),
            beforeInverted != match.Inverted,
            100 * match.Shared);
        return new Comparison(
            registration,
            results,
            new Lazy<ComparisonPicture>(() =>
                ComparisonPainter.Paint(request, before, after, match.BeforeToAfter, branches, shifts, strips, readers, results, shown, beforeInverted, empty)),
            Notices(readers));
    }

    /// <summary>Noise of the difference of the films beside the fillings, in grey levels per pixel.</summary>
    private double Noise()
    {
        var differences = new List<double>();
        foreach (var strip in strips)
        {
            for (var row = 1; row < strip.Levels; row += 2)
            {
                var rod = strip.Rods.At(strip.FirstLevel + row);
                for (var column = 0; column < strip.Columns; column += 2)
                {
                    if (!strip.OfAnother[row, column] && Math.Abs(strip.OffsetOf(column) - rod.CentrePixels) > rod.RadiusPixels + CanalStrips.SideGapPixels(strip.Rods.BlurPixels))
                    {
                        differences.Add(strip.Before[row, column] - strip.After[row, column]);
                    }
                }
            }
        }

        return differences.Count < 20 ? 1 : Math.Max(1e-3, Ranks.RobustDeviation([.. differences]));
    }

    private BranchResidue Branch(int index, ResidueReader reader, IReadOnlyList<WeighedCanal> empties, EmptyCanal empty)
    {
        var branch = branches[index];
        if (request.StateOf(branch.Name) is var state and not AfterState.Removed)
        {
            return Refused(branch, CompareRefusals.StateHides(branch.Name, state));
        }

        var strip = strips[index];
        var rows = Enumerable.Range(0, strip.Levels).Where(reader.Filled).ToArray();
        if (!courses[index].Any || rows.Length < 4)
        {
            return Refused(branch, CompareRefusals.NothingBefore(branch.Name));
        }

        if (rows.Count(row => strip.Seen[row]) < 0.8 * rows.Length)
        {
            return Refused(branch, CompareRefusals.NotShown(branch.Name));
        }

        if (shifts[index].AgreeingShare < 0.15)
        {
            return Refused(branch, CompareRefusals.MissedItself(branch.Name));
        }

        var covered = CanalOverlap.Of(index, branches, courses, strip);
        var overlap = covered.Share(rows);
        var thirds = new Dictionary<CanalThird, ResidueShare>();
        foreach (var third in Enum.GetValues<CanalThird>())
        {
            var inside = rows.Where(row => ThirdOf(branch, strip.FirstLevel + row) == third).ToArray();
            if (inside.Length >= 4)
            {
                thirds[third] = Share(index, reader, inside, empties, empty, covered.Share(inside), ThirdScale);
            }
        }

        return new BranchResidue(
            branch,
            null,
            Share(index, reader, rows, empties, empty, overlap, WholeScale),
            thirds,
            Displacements(index),
            DetectionLimit(index, reader),
            overlap,
            StripSamples(index, reader, empty));
    }

    private static BranchResidue Refused(TracedBranch branch, Refusal refusal) =>
        new(branch, refusal, null, new Dictionary<CanalThird, ResidueShare>(), [], 0, 0, []);

    private static CanalThird ThirdOf(TracedBranch branch, double level) =>
        CanalThirds.Of(level, branch.Path.LengthPixels);

    private ResidueShare Share(int index, ResidueReader reader, int[] rows, IReadOnlyList<WeighedCanal> empties, EmptyCanal empty, double overlap, double scale)
    {
        var strip = strips[index];
        var (area, massBefore, areaBefore) = reader.Share(rows, empty, 0);
        if (massBefore <= 0 || areaBefore < 8)
        {
            const string Why = "The filling hardly stands out here on the film before.";
            return new ResidueShare(null, null, Why, Why);
        }

        var (mass, massDeviation) = EmptyCanals.MeanAndDeviation(empties, each => reader.MassShare(rows, each));
        var white = reader.White(rows);
        var deviation = scale * MassDeviation(strip, rows, mass, massBefore, massDeviation, index, overlap, white);
        var thickness = ThicknessScale * ThicknessDeviation(strip, rows, massDeviation);
        var less = reader.Share(rows, empty, -1.96 * thickness).Area;
        var more = reader.Share(rows, empty, 1.96 * thickness).Area;
        var areaFloor = LeastAreaDeviation + (0.55 * overlap) + white.Hidden + white.Undecided;
        var areaPercent = Percent(area, Math.Min(less, area - areaFloor), Math.Max(more, area + areaFloor));
        return white.Undecided > MostUndecided
            ? new ResidueShare(areaPercent, null, WhyNoMass: TooWhite(white.Undecided))
            : new ResidueShare(areaPercent, Percent(mass, mass - (1.96 * deviation), mass + (1.96 * deviation)));
    }

    private static string TooWhite(double undecided) => string.Create(
        CultureInfo.InvariantCulture,
        $"The film after is as white here as it can be: behind it {200 * undecided:0} % of the filling may be left or gone, so its mass can't be told.");

    private static Estimate Percent(double value, double low, double high) =>
        new(100 * value, new Interval(100 * low, 100 * high));

    private double MassDeviation(
        CanalStrips strip,
        int[] rows,
        double mass,
        double massBefore,
        double fromEmptied,
        int index,
        double overlap,
        (double Hidden, double Undecided) white)
    {
        var width = rows.Average(row => (2 * strip.Rods.At(strip.FirstLevel + row).RadiusPixels) + (5 * strip.Rods.BlurPixels));
        var pixels = width * rows.Length;
        var contrast = massBefore / pixels;

        // What bone adds behind a canal varies over about this many pixels along it: part of it evens out over a longer stretch.
        const double Together = 30;
        var unevened = Math.Sqrt(Math.Min(1, Together / rows.Length));
        var left = Math.Clamp(mass, 0, 1);
        var ground = strip.GroundDeviation / contrast;

        // An unknown bend of the grey scale (exponents of 0.6 to 1.6) weighs thick and thin residue unlike.
        var bend = left * (1 - left);
        double[] parts =
        [
            0.7 * ground * unevened,
            0.12 * bend * unevened,
            0.024,

            // More than was there, or less than nothing, can't be: a figure beyond is wrong by at least as much.
            mass - left,
            0.5 * fromEmptied,
            0.005 * shifts[index].RestRmsPixels,
            OverlappedDeviation * (1 - Math.Exp(-Math.Pow(overlap / OverlapThatHides, 2))),
            2.5 * Math.Max(1e-3, strip.SideDifference) / contrast / Math.Sqrt(pixels / 6),
            0.1 * grey.RestDeviation / contrast,
            HiddenDeviation * white.Hidden,
            white.Undecided,
        ];
        return Math.Sqrt(parts.Sum(part => part * part));
    }

    private static double ThicknessDeviation(CanalStrips strip, int[] rows, double emptiedDeviation)
    {
        var typical = rows.Average(row => strip.Rods.At(strip.FirstLevel + row).RadiusPixels) * 1.6;
        var fromSides = ((0.7 * strip.SideDifference) + (0.35 * strip.GroundDeviation)) / strip.Rods.GreyPerPixel;
        return Math.Sqrt((fromSides * fromSides) + Math.Pow(emptiedDeviation * typical, 2));
    }

    /// <summary>
    /// The smallest patch of the least thickness that stands out from noise by three standard deviations, and no smaller
    /// than the blur's own spot.
    /// </summary>
    private double DetectionLimit(int index, ResidueReader reader)
    {
        var noiseThickness = reader.NoiseGrey / strips[index].Rods.GreyPerPixel;
        var fromNoise = Math.Pow(3 * noiseThickness / leastThicknessPixels, 2) * 4;
        var spot = Math.PI / 4 * Math.Pow(2.355 * courses[index].BlurPixels, 2);
        return Math.Max(fromNoise, spot);
    }

    private List<Displacement> Displacements(int index)
    {
        var path = branches[index].Path;
        var step = 0.5 / millimetresPerPixel;
        var result = new List<Displacement>();
        for (var level = 0.0; level <= path.LengthPixels; level += step)
        {
            var place = path.At(level);
            var moved = match.BeforeToAfter.Of(place + shifts[index].At(level)) - place;
            result.Add(new Displacement(level, moved.X, moved.Y));
        }

        return result;
    }

    private List<StripSample> StripSamples(int index, ResidueReader reader, EmptyCanal empty)
    {
        var strip = strips[index];
        var samples = new List<StripSample>();
        for (var row = 0; row < strip.Levels; row += 3)
        {
            var rod = strip.Rods.At(strip.FirstLevel + row);
            if (!rod.Filled)
            {
                samples.Add(new StripSample(strip.FirstLevel + row, 0, 0, 0, 0, CannotTell: false));
                continue;
            }

            double from = 0, to = 0;
            var any = false;
            for (var column = 0; column < strip.Columns; column++)
            {
                if (strip.Seen[row] && reader.WasFilling(row, column) && reader.ThicknessLeft(row, column, empty) >= leastThicknessPixels)
                {
                    var offset = strip.OffsetOf(column);
                    from = any ? Math.Max(from, offset + 0.5) : offset + 0.5;
                    to = any ? Math.Min(to, offset - 0.5) : offset - 0.5;
                    any = true;
                }
            }

            samples.Add(new StripSample(
                strip.FirstLevel + row,
                2 * rod.RadiusPixels,
                from,
                to,
                reader.MassShare([row], empty),
                CannotTell: !strip.Seen[row]));
        }

        return samples;
    }

    private List<string> Notices(IReadOnlyList<ResidueReader> readers)
    {
        var notices = new List<string>();
        foreach (var (branch, reader) in branches.Zip(readers))
        {
            var (hidden, undecided) = reader.White(Enumerable.Range(0, reader.Levels));
            if (hidden + undecided > MentionedWhite)
            {
                notices.Add($"{branch.Name}: part of the filling is as white as these films can show. What lies behind is reckoned from the filling's edge, and the interval is wider for it.");
            }
        }

        if (request.BeforeScale is null)
        {
            notices.Add("The film has no scale: shares are given, areas in mm² are not, and 0.10 mm of thickness is taken from the usual 0.03 mm per pixel.");
        }

        if (branches.Any(branch => request.StateOf(branch.Name) == AfterState.Removed))
        {
            notices.Add("What lies behind something dense, or is smaller than the patch named, is not seen on these films.");
        }

        return notices;
    }
}
