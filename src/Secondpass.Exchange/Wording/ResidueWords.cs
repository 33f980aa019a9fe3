using System.Globalization;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;

namespace Secondpass.Exchange.Wording;

/// <summary>Says in words what is left, alike on the page, on the sheet and on the command line.</summary>
/// <remarks>
/// Shares are clipped to 0–100 here and nowhere before. Nothing is ever called clean or proven: where no residue is seen, the
/// sentence says what could not have been seen. A mass that is known speaks first; without one the area does, and says so.
/// </remarks>
public static class ResidueWords
{
    /// <summary>What is said of a third without filling before.</summary>
    public const string NoFillingBefore = "no filling here before";

    /// <summary>What is said of a third that the branch shares with its trunk.</summary>
    public const string CountedWithTrunk = "counted with trunk";

    /// <summary>What is said where there is neither a mass nor an area.</summary>
    public const string NotKnown = "not known";

    private const string NoneSeen = "none seen";
    private const string Unclear = "unclear";

    /// <summary>From which share of a filling's length on it is said that these films can't tell about it: less is a level or two.</summary>
    private const double WorthSaying = 0.01;

    /// <summary>A share as whole percent, clipped to 0–100; what lies between 0 and 1 or between 99 and 100 is not rounded to nothing or everything.</summary>
    /// <param name="percent">Percent, finite.</param>
    /// <returns>Such as "12 %", "under 1 %", "over 99 %".</returns>
    /// <exception cref="ArgumentOutOfRangeException">The share is not a number.</exception>
    public static string Percent(double percent)
    {
        RequireFinite(percent);
        return Math.Clamp(percent, 0, 100) switch
        {
            > 0 and < 1 => "under 1 %",
            > 99 and < 100 => "over 99 %",
            var share => Whole(Math.Round(share, MidpointRounding.AwayFromZero)) + " %",
        };
    }

    /// <summary>An interval of shares in whole percent, clipped to 0–100 and rounded outwards.</summary>
    /// <param name="percent">Ends in percent.</param>
    /// <returns>Such as "8–17 %"; "under 1 %" where no end lies above 0.</returns>
    public static string PercentInterval(Interval percent)
    {
        var low = Math.Floor(Math.Clamp(percent.Low, 0, 100));
        var high = Math.Ceiling(Math.Clamp(percent.High, 0, 100));
        return low < high ? $"{Whole(low)}–{Whole(high)} %" : high > 0 ? Whole(high) + " %" : "under 1 %";
    }

    /// <summary>A share with its interval.</summary>
    /// <param name="percent">In percent.</param>
    /// <returns>Such as "12 % (8–17 %)".</returns>
    public static string Share(Estimate percent) => $"{Percent(percent.Value)} ({PercentInterval(percent.Interval)})";

    /// <summary>A small area, rounded up.</summary>
    /// <param name="area">The area, not negative.</param>
    /// <returns>Such as "0.12 mm²".</returns>
    public static string Area(SquareMillimetres area) => RoundedUp(area.Value, 2, "0.00") + " mm²";

    /// <summary>The smallest patch of residue that this pair of films could show in a branch, rounded up.</summary>
    /// <param name="residue">The branch.</param>
    /// <param name="scale">Scale of the film before; null when unknown.</param>
    /// <returns>Such as "0.12 mm²", or "130 square pixels" without a scale.</returns>
    public static string SmallestPatch(BranchResidue residue, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(residue);
        return SmallestPatch(residue.DetectionLimitSquarePixels, scale);
    }

    /// <summary>As <see cref="SmallestPatch(BranchResidue, Calibration)"/>, for an area.</summary>
    /// <param name="squarePixels">The area, in square pixels of the film before.</param>
    /// <param name="scale">Scale of the film before; null when unknown.</param>
    public static string SmallestPatch(double squarePixels, Calibration? scale)
    {
        RequireFinite(squarePixels);
        return scale is null
            ? RoundedUp(squarePixels, 0, "0") + " square pixels"
            : Area(new SquareMillimetres(squarePixels * scale.MillimetresPerPixel * scale.MillimetresPerPixel));
    }

    /// <summary>Whether no filling is visible in the branch: the interval of what is left reaches 0, and no patch as large as the smallest that could be shown is seen.</summary>
    /// <param name="residue">The branch.</param>
    public static bool IsNoneVisible(BranchResidue residue)
    {
        ArgumentNullException.ThrowIfNull(residue);
        return Spoken(residue.Whole) is { } share && IsNoneVisible(residue, share, 0, residue.Branch.Path.LengthPixels);
    }

    /// <summary>What is left in a branch, in one line without its name.</summary>
    /// <param name="residue">The branch.</param>
    /// <param name="scale">Scale of the film before; null when unknown.</param>
    /// <returns>Such as "12 % of the filling left (8–17 %)", "no filling visible on this film; residue under 0.12 mm² can't be seen; 0–6 % may be left", or the reason why there is no result.</returns>
    public static string WhatIsLeft(BranchResidue residue, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(residue);
        if (residue.Refused is { } refused)
        {
            return refused.Reason;
        }

        if (Spoken(residue.Whole) is not { } share)
        {
            return residue.Whole is { } whole ? whole.WhyNoMass ?? whole.WhyNoArea ?? NotKnown : NoFillingBefore;
        }

        if (IsNoneVisible(residue))
        {
            return $"no filling visible on this film; residue under {SmallestPatch(residue, scale)} can't be seen; {PercentInterval(share.Interval)} may be left{WhereFilmsCannotTell(residue)}";
        }

        var of = residue.Whole?.MassPercent is null ? "of the filling's area" : "of the filling";
        var yet = share.Value < 1 && IsPatchSeen(residue, 0, residue.Branch.Path.LengthPixels) ? ", yet some of it is seen" : string.Empty;
        return $"{Percent(share.Value)} {of} left ({PercentInterval(share.Interval)}){yet}";
    }

    /// <summary>The headline of a branch: its name, what is left, and the third that holds most of it where one does.</summary>
    /// <param name="residue">The branch.</param>
    /// <param name="scale">Scale of the film before; null when unknown.</param>
    /// <returns>Such as "MB1: 12 % of the filling left (8–17 %), most of it in the apical third".</returns>
    public static string Headline(BranchResidue residue, Calibration? scale)
    {
        ArgumentNullException.ThrowIfNull(residue);
        var most = ThirdWithMost(residue);
        var where = most is { } third ? $", most of it in the {Name(third)} third" : string.Empty;
        return $"{residue.Branch.Name}: {WhatIsLeft(residue, scale)}{where}";
    }

    /// <summary>What is left in one third of a branch, for a label or a table.</summary>
    /// <param name="residue">The branch.</param>
    /// <param name="third">The third.</param>
    /// <returns>Such as "31 % (20–44 %)", "none seen (0–9 %)", "seen (0–8 %)" where a patch is seen although the share is under 1 %, "unclear (0–40 %)" where these films can't tell about a part of it, "no filling here before"; empty when the branch is refused.</returns>
    public static string Third(BranchResidue residue, CanalThird third)
    {
        ArgumentNullException.ThrowIfNull(residue);
        return Third(residue, third, Spoken(residue.Thirds.GetValueOrDefault(third)));
    }

    /// <summary>As <see cref="Third(BranchResidue, CanalThird)"/>, by mass only.</summary>
    /// <param name="residue">The branch.</param>
    /// <param name="third">The third; null for the whole branch.</param>
    public static string Mass(BranchResidue residue, CanalThird? third = null)
    {
        ArgumentNullException.ThrowIfNull(residue);
        return Part(residue, third, share => share?.MassPercent);
    }

    /// <summary>As <see cref="Third(BranchResidue, CanalThird)"/>, by area only.</summary>
    /// <param name="residue">The branch.</param>
    /// <param name="third">The third; null for the whole branch.</param>
    public static string AreaShare(BranchResidue residue, CanalThird? third = null)
    {
        ArgumentNullException.ThrowIfNull(residue);
        return Part(residue, third, share => share?.AreaPercent);
    }

    /// <summary>The word for a third: coronal, middle or apical.</summary>
    /// <param name="third">The third.</param>
    public static string Name(CanalThird third) => third switch
    {
        CanalThird.Coronal => "coronal",
        CanalThird.Middle => "middle",
        CanalThird.Apical => "apical",
        _ => throw new ArgumentOutOfRangeException(nameof(third), third, "A canal has three thirds."),
    };

    /// <summary>How much of the filling's length these films can't tell about: without it "no filling visible" would promise too much.</summary>
    private static string WhereFilmsCannotTell(BranchResidue residue)
    {
        var untold = UntoldShare(residue, 0, residue.Branch.Path.LengthPixels);
        return untold >= WorthSaying
            ? $", and along {Percent(100 * untold)} of the filling these films can't tell"
            : string.Empty;
    }

    /// <summary>Share, 0 to 1, of the filling's length between two levels that these films can't tell about.</summary>
    private static double UntoldShare(BranchResidue residue, double fromPixels, double toPixels)
    {
        var (filled, untold) = (0.0, 0.0);
        for (var i = 0; i < residue.Strip.Count; i++)
        {
            var sample = residue.Strip[i];
            if (sample.FillingWidthPixels > 0)
            {
                var (from, to) = ResiduePatches.Reach(residue.Strip, i);
                var within = Math.Max(0, Math.Min(to, toPixels) - Math.Max(from, fromPixels));
                filled += within;
                untold += sample.CannotTell ? within : 0;
            }
        }

        return filled > 0 ? untold / filled : 0;
    }

    /// <summary>The third that holds more than half of the residue seen, where its own share is above the branch's; null where none does or none is to be named.</summary>
    private static CanalThird? ThirdWithMost(BranchResidue residue)
    {
        if (residue.Refused is not null || residue.Thirds.Count < 2 || Spoken(residue.Whole) is not { } whole || IsNoneVisible(residue))
        {
            return null;
        }

        var length = residue.Branch.Path.LengthPixels;
        var seen = ResiduePatches.AreaSquarePixels(residue.Strip, 0, length);
        foreach (var (third, share) in residue.Thirds)
        {
            var (from, to) = LevelsOf(third, length);
            if (Spoken(share) is { } part
                && part.Value > whole.Value
                && ResiduePatches.AreaSquarePixels(residue.Strip, from, to) > seen / 2)
            {
                return third;
            }
        }

        return null;
    }

    private static string Part(BranchResidue residue, CanalThird? third, Func<ResidueShare?, Estimate?> measure)
    {
        if (third is { } part)
        {
            return Third(residue, part, measure(residue.Thirds.GetValueOrDefault(part)));
        }

        if (residue.Refused is not null)
        {
            return string.Empty;
        }

        return residue.Whole is null ? NoFillingBefore : Cell(residue, measure(residue.Whole), 0, residue.Branch.Path.LengthPixels);
    }

    private static string Third(BranchResidue residue, CanalThird third, Estimate? share)
    {
        if (residue.Refused is not null)
        {
            return string.Empty;
        }

        var (from, to) = LevelsOf(third, residue.Branch.Path.LengthPixels);
        if (!residue.Thirds.ContainsKey(third))
        {
            return residue.Branch.OwnFromPixels > 0 && residue.Branch.OwnFromPixels >= to - 0.5 ? CountedWithTrunk : NoFillingBefore;
        }

        return Cell(residue, share, from, to);
    }

    private static string Cell(BranchResidue residue, Estimate? share, double fromPixels, double toPixels)
    {
        if (share is not { } known)
        {
            return NotKnown;
        }

        if (!IsNoneVisible(residue, known, fromPixels, toPixels))
        {
            return known.Value < 1 && IsPatchSeen(residue, fromPixels, toPixels)
                ? $"seen ({PercentInterval(known.Interval)})"
                : Share(known);
        }

        var words = UntoldShare(residue, fromPixels, toPixels) >= WorthSaying ? Unclear : NoneSeen;
        return $"{words} ({PercentInterval(known.Interval)})";
    }

    private static bool IsNoneVisible(BranchResidue residue, Estimate share, double fromPixels, double toPixels) =>
        share.Interval.Low <= 0 && !IsPatchSeen(residue, fromPixels, toPixels);

    /// <summary>Whether a patch as large as the smallest that could be shown reaches between two levels.</summary>
    private static bool IsPatchSeen(BranchResidue residue, double fromPixels, double toPixels) =>
        ResiduePatches.Of(residue.Strip).Exists(patch =>
            patch.AreaSquarePixels >= residue.DetectionLimitSquarePixels
            && patch.FromPixels < toPixels
            && patch.ToPixels > fromPixels);

    private static Estimate? Spoken(ResidueShare? share) => share?.MassPercent ?? share?.AreaPercent;

    private static (double From, double To) LevelsOf(CanalThird third, double lengthPixels) =>
        ((int)third * lengthPixels / 3, ((int)third + 1) * lengthPixels / 3);

    private static string RoundedUp(double value, int decimals, string format)
    {
        // A hair less than the last digit, so that 0.12 stays 0.12 although a double holds a little more.
        var unit = Math.Pow(10, decimals);
        return (Math.Ceiling((value * unit) - 1e-9) / unit).ToString(format, CultureInfo.InvariantCulture);
    }

    private static string Whole(double value) => value.ToString("0", CultureInfo.InvariantCulture);

    private static void RequireFinite(double value)
    {
        if (!double.IsFinite(value))
        {
            throw new ArgumentOutOfRangeException(nameof(value), "A figure that is not a number is never shown.");
        }
    }
}
