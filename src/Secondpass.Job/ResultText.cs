using System.Globalization;
using System.Text;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Documents;
using Secondpass.Job.Meaning;

namespace Secondpass.Job;

/// <summary>Results as text for a person at a terminal: a table, what needs saying about single canals, and the notices.</summary>
public static class ResultText
{
    /// <summary>A measured film.</summary>
    /// <param name="marked">The case that was measured.</param>
    /// <param name="measured">What was measured.</param>
    public static string Of(MarkedCase marked, MeasuredFilm measured)
    {
        ArgumentNullException.ThrowIfNull(marked);
        ArgumentNullException.ThrowIfNull(measured);
        var branches = measured.Trunks.SelectMany(trunk => trunk.SelfAndBelow()).ToArray();
        var text = new StringBuilder();
        Heading(text, marked.Tooth, measured.Scale);
        Table(
            text,
            ["canal", "length", "filled", "filling ends", "Schneider", "Pruett", "off centre"],
            branches.Select(branch => (string[])[
                branch.Name,
                branch.Measures.Length is { } length ? EstimateWords.Millimetres(length, 1) : None,
                ResidueWords.Percent(branch.Measures.FilledPercent),
                branch.Measures.FillingEndToCanalEnd is { } end ? MeasureWords.FillingEnd(new Millimetres(end.Value)) : None,
                branch.Measures.SchneiderDegrees is { } angle ? EstimateWords.Degrees(angle) : None,
                EstimateWords.Pruett(branch.Measures.Pruett) ?? None,
                branch.Measures.OffCentre is { } offCentre ? EstimateWords.Millimetres(offCentre.DifferenceMillimetres, 2) : None,
            ]));
        string[] source = branches.Any(branch => branch.Measures.OffCentre is { IsSign: true })
            ? [string.Create(CultureInfo.InvariantCulture, $"{FilmSigns.OffCentreDifference.Value:0.0} mm and more off centre is associated with an unfilled canal: {FilmSigns.OffCentreDifference.Source}.")]
            : [];
        Lines(text, [.. branches.SelectMany(branch => Said(branch, measured.Scale)), .. source]);
        Lines(text, measured.Document.Notices);
        return text.ToString().ReplaceLineEndings("\n");
    }

    /// <summary>Two films compared.</summary>
    /// <param name="marked">The case that was compared.</param>
    /// <param name="compared">The comparison.</param>
    public static string Of(MarkedCase marked, ComparedFilms compared)
    {
        ArgumentNullException.ThrowIfNull(marked);
        ArgumentNullException.ThrowIfNull(compared);
        var scale = compared.Request.BeforeScale;
        var residues = compared.Comparison.Branches;
        var text = new StringBuilder();
        Heading(text, marked.Tooth, scale);
        Lines(text, residues.Select(residue => ResidueWords.Headline(residue, scale)));
        Table(
            text,
            ["canal", "coronal", "middle", "apical", "smallest patch that shows"],
            residues.Where(residue => residue.Refused is null).Select(residue => (string[])[
                residue.Branch.Name,
                ResidueWords.Third(residue, CanalThird.Coronal),
                ResidueWords.Third(residue, CanalThird.Middle),
                ResidueWords.Third(residue, CanalThird.Apical),
                ResidueWords.SmallestPatch(residue, scale),
            ]));
        Lines(text, compared.Document.Canals.Where(canal => canal.NextPass is { Count: > 0 }).Select(canal => $"{canal.Name}, another pass: {canal.NextPass![0].Words}"));
        Lines(text, compared.Document.Moved is { Count: > 0 } moved ? [.. moved.Select(one => one.Words + "."), MovedWords.MayBe] : residues.Any(residue => residue.Refused is null) ? [MovedWords.NoneSeen] : []);
        Lines(text, compared.Document.Notices);
        return text.ToString().ReplaceLineEndings("\n");
    }

    /// <summary>Two pairs of films read together.</summary>
    /// <param name="together">What they say together.</param>
    public static string Of(TogetherDocument together)
    {
        ArgumentNullException.ThrowIfNull(together);
        var text = new StringBuilder();
        Table(
            text,
            ["canal", "left", "coronal", "middle", "apical"],
            together.Canals.Select(canal => (string[])[canal.Name, .. new[] { canal.Whole, canal.Coronal, canal.Middle, canal.Apical }.Select(TwoViews.Words)]));
        Lines(text, together.Notices);
        return text.ToString().ReplaceLineEndings("\n");
    }

    private const string None = "–";

    private static void Heading(StringBuilder text, ToothNumber? tooth, Calibration? scale)
    {
        if (tooth is { } known)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"Tooth {known}, {known.Words}");
        }

        text.AppendLine(CultureInfo.InvariantCulture, $"Scale: {FilmWords.Scale(scale)}");
    }

    private static IEnumerable<string> Said(TracedBranch branch, Calibration? scale)
    {
        var measures = branch.Measures;
        if (measures.OffCentre is { IsSign: true } sign)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{branch.Name}: the filling lies off the middle of the root by {sign.DifferenceMillimetres.Value:0.00} mm, {sign.AtMillimetresFromEnd:0.0} mm from the canal's end.");
        }

        if (measures is { Length: not null, WhyNoOffCentre: { } untold })
        {
            yield return Told(branch, untold);
        }

        foreach (var line in EmptyAndWalls(branch, scale))
        {
            yield return line;
        }

        foreach (var gap in measures.Voids)
        {
            yield return Told(branch, MeasureWords.Void(gap, measures.LengthPixels, scale));
        }

        if (measures.Pruett.WhyNone is { } why)
        {
            yield return $"{branch.Name}: no angle after Pruett. {why}";
        }
    }

    // Where nearly all is filled nobody asks how wide the rest is.
    private static IEnumerable<string> EmptyAndWalls(TracedBranch branch, Calibration? scale)
    {
        const double NearlyAllPercent = 95;
        if (scale is null)
        {
            yield break;
        }

        if (CanalFigures.EmptyWidths(branch, scale) is { } empty)
        {
            yield return $"{branch.Name}: without filling {empty}.";
        }
        else if (branch.WhyNoCanalWidth is { } untold && branch.Measures.FilledPercent < NearlyAllPercent)
        {
            yield return Told(branch, untold);
        }

        if (CanalFigures.ThinnestWall(branch, scale) is { } wall)
        {
            yield return $"{branch.Name}: the thinnest wall that is seen is {wall}.";
        }
        else if (branch.WhyNoWalls is { } why)
        {
            yield return Told(branch, why);
        }
    }

    private static string Told(TracedBranch branch, string sentence) => $"{branch.Name}: {char.ToLowerInvariant(sentence[0])}{sentence[1..]}";

    private static void Table(StringBuilder text, string[] heads, IEnumerable<string[]> rows)
    {
        string[][] all = [heads, .. rows];
        if (all.Length == 1)
        {
            return;
        }

        text.AppendLine();
        var widths = heads.Select((_, column) => all.Max(row => row[column].Length)).ToArray();
        foreach (var row in all)
        {
            text.AppendLine(string.Join("  ", row.Select((cell, column) => cell.PadRight(widths[column]))).TrimEnd());
        }
    }

    private static void Lines(StringBuilder text, IEnumerable<string> lines)
    {
        foreach (var (place, line) in lines.Index())
        {
            if (place == 0)
            {
                text.AppendLine();
            }

            text.AppendLine(line);
        }
    }
}
