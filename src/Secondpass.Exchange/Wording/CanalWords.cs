using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;

namespace Secondpass.Exchange.Wording;

/// <summary>Says in words what is expected, found, filled, off centre and unfilled, alike on the page and in letters.</summary>
public static class CanalWords
{
    /// <summary>What is said where nothing was published that is known here.</summary>
    public const string NoFigure = "no published figure here";

    /// <summary>What is expected in a root and how that stands, in sentences.</summary>
    /// <param name="root">The root.</param>
    /// <param name="scan">What a cone-beam scan showed; null when none was read.</param>
    /// <returns>Such as "This root has a second canal (MB2) in 73.8 % (48–97.6 by country); MB1 is filled, and its filling lies 0.4 mm off centre: look palatal."</returns>
    public static IReadOnlyList<string> Sentences(RootState root, ConeBeamReading? scan)
    {
        ArgumentNullException.ThrowIfNull(root);
        var said = new List<string>();

        // A canal that no study found is nothing to look for.
        foreach (var expected in root.NotFound.Where(expected => expected is { IsUsual: false, Prevalence: not { Value: 0, Range: null } }))
        {
            var share = Share(expected.Prevalence);
            said.Add($"{Subject(root, expected)}{(share == NoFigure ? ": " : " in ")}{share}{Stands(root)}{Look(root, expected)}.");
            if (scan is not null && expected is { Name: "MB2", Prevalence.Value: { } prior } && !scan.CanalNames.Contains(expected.Name, StringComparer.OrdinalIgnoreCase))
            {
                said.Add(string.Create(
                    CultureInfo.InvariantCulture,
                    $"The cone-beam scan does not show {expected.Name}; a scan misses some, and {CanalAnatomy.AfterNotSeenPercent(prior):0} % remain likely (sensitivity and specificity {CanalAnatomy.ConeBeamSensitivity.Value:0.00})."));
            }
        }

        said.AddRange(root.Unfilled.Where(canal => canal.Intent != CanalIntent.LeaveAlone).Select(canal => $"{canal.Name} was found and is not filled."));
        if (root.NotFound.All(expected => expected.IsUsual))
        {
            said.AddRange(root.OffCentre.Select(canal => $"The filling of {canal.Name} lies {Off(canal)} off centre."));
        }

        said.AddRange(root.Canals.Where(canal => canal.Meeting is not null).Select(Meeting));
        if (root.IsLeftAlone)
        {
            said.Add(LeftAlone(root));
        }

        return said;
    }

    /// <summary>That a root is left alone, and why where that is said, such as "The palatal root is left alone: filling sound, no lesion."</summary>
    /// <param name="root">A root that is left alone.</param>
    public static string LeftAlone(RootState root)
    {
        ArgumentNullException.ThrowIfNull(root);
        return $"The {ExpectedCanals.RootInWords(root.Root)} is left alone{(root.WhyLeftAlone is { } why ? $": {why.TrimEnd('.')}" : string.Empty)}.";
    }

    /// <summary>How often something is there, such as "73.8 % (48–97.6 by country)".</summary>
    /// <param name="prevalence">The published figure; null for none.</param>
    public static string Share(Sourced<double?>? prevalence)
    {
        if (prevalence is null || prevalence.Standing == Standing.Missing)
        {
            return NoFigure;
        }

        var means = prevalence.Name.Contains("by country", StringComparison.Ordinal) ? " by country"
            : prevalence.Name.Contains("95 % interval", StringComparison.Ordinal) ? ", 95 % interval"
            : " between studies";
        return (prevalence.Value, prevalence.Range) switch
        {
            ({ } value, { } range) => string.Create(CultureInfo.InvariantCulture, $"{value:0.##} % ({range.Low:0.##}–{range.High:0.##}{means})"),
            ({ } value, null) => string.Create(CultureInfo.InvariantCulture, $"{value:0.##} %, no interval published"),
            (null, { } range) => string.Create(CultureInfo.InvariantCulture, $"{range.Low:0.##}–{range.High:0.##} %{means}, no pooled figure"),
            _ => NoFigure,
        };
    }

    /// <summary>Where a branch leaves its parent or joins it, such as "D2 splits off D mesiodistally, 3.0 mm from the end."</summary>
    /// <param name="canal">A branch with a parent.</param>
    public static string Meeting(CanalRecord canal)
    {
        ArgumentNullException.ThrowIfNull(canal);
        var meeting = canal.Meeting!;
        var verb = meeting.Joins ? "joins" : "splits off";
        var plane = meeting.Plane switch
        {
            MeetingPlane.Mesiodistal => " mesiodistally",
            MeetingPlane.Buccolingual => " buccolingually",
            _ => ", in a plane not known",
        };
        var level = meeting.FromEnd is { } fromEnd ? $", {MeasureWords.Length(fromEnd)} from the end" : ", at a level not known";
        return $"{canal.Name} {verb} {canal.Parent}{plane}{level}.";
    }

    /// <summary>How a canal's filling stands, in words.</summary>
    /// <param name="canal">The canal.</param>
    public static string Filling(CanalRecord canal)
    {
        ArgumentNullException.ThrowIfNull(canal);
        var end = canal.FillingEndToCanalEnd is { } measured ? $", ends {MeasureWords.FillingEnd(measured)}" : string.Empty;
        return canal.Filling switch
        {
            CanalFilling.Filled => "filled" + end,
            CanalFilling.ShortOfEnd => "filled short" + end,
            CanalFilling.BeyondEnd => "filled beyond the end" + end,
            CanalFilling.Unfilled => "not filled",
            _ => "filling not judged",
        };
    }

    private static string Subject(RootState root, ExpectedCanal expected) => root.Expected.Count(one => one.IsUsual) switch
    {
        0 => $"This tooth has a {ExpectedCanals.RootInWords(root.Root)} ({expected.Name})",
        1 when root.Expected.First(one => !one.IsUsual) == expected => $"This root has a second canal ({expected.Name})",
        _ => $"This root has another canal ({expected.Name})",
    };

    private static string Stands(RootState root) => (root.Found.Count, root.Filled.Count) switch
    {
        (0, _) => string.Empty,
        (1, 1) => root.OffCentre.Count == 1 ? "; one is filled, and it lies " + Off(root.OffCentre[0]) + " off centre" : "; one is filled",
        (_, 0) => string.Create(CultureInfo.InvariantCulture, $"; {root.Found.Count} found, none known to be filled"),
        var (found, filled) => string.Create(CultureInfo.InvariantCulture, $"; {found} found, {filled} filled") + string.Concat(root.OffCentre.Select(canal => $", {canal.Name} lies {Off(canal)} off centre")),
    };

    private static string Look(RootState root, ExpectedCanal expected) =>
        root.Found.Count > 0 && expected.LookTo is { } side ? $": look {side}" : string.Empty;

    private static string Off(CanalRecord canal) => MeasureWords.Length(canal.OffCentre!.Value);
}
