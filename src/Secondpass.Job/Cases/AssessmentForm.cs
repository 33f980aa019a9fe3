using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Cases;

/// <summary>An assessment as it is being typed.</summary>
public sealed class AssessmentForm
{
    /// <summary>The version of the case that the form was filled from.</summary>
    public long Version { get; set; }

    /// <summary>Pulpal diagnosis; previously treated until another is chosen.</summary>
    public PulpalDiagnosis Pulpal { get; set; }

    /// <summary>Diagnosis at the apex.</summary>
    public ApicalDiagnosis Apical { get; set; }

    /// <summary>Year of the last treatment.</summary>
    public string? Year { get; set; }

    /// <summary>What the last treatment filled the canals with.</summary>
    public OldFilling OldFilling { get; set; }

    /// <summary>The post.</summary>
    public string? Post { get; set; }

    /// <summary>The crown or restoration.</summary>
    public string? Crown { get; set; }

    /// <summary>Who treated it.</summary>
    public string? TreatedBy { get; set; }

    /// <summary>Whether it was probed.</summary>
    public bool Probed { get; set; }

    /// <summary>Depth of an isolated deep pocket in mm.</summary>
    public string? DeepProbing { get; set; }

    /// <summary>Whether it was thought again about a fracture, and treatment goes on.</summary>
    public bool ThoughtOfFracture { get; set; }

    /// <summary>Restorability before treatment.</summary>
    public Restorability Before { get; set; }

    /// <summary>Restorability once caries and post are out.</summary>
    public Restorability AfterTakeDown { get; set; }

    /// <summary>Whether the patient agreed to exploration only.</summary>
    public bool ExplorationAgreed { get; set; }

    /// <summary>The fee that was told for it, in whole units with at most as many decimals as its currency has.</summary>
    public string? ExplorationFee { get; set; }

    /// <summary>Whether the fee is in the clinic's currency of now, where one noted before is in another or in none.</summary>
    public bool FeeIsInClinicCurrency { get; set; }

    /// <summary>What else was found.</summary>
    public string? Findings { get; set; }

    /// <summary>One line for each root.</summary>
    public List<RootLine> Roots { get; set => field = value ?? []; } = [];

    /// <summary>The form filled from a case.</summary>
    public static AssessmentForm Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        var noted = it.Assessment;
        return new AssessmentForm
        {
            Version = it.Version,
            Pulpal = noted.Pulpal,
            Apical = noted.Apical,
            Year = noted.Previous.Year?.ToString(CultureInfo.InvariantCulture),
            OldFilling = noted.Previous.Filling,
            Post = noted.Previous.Post,
            Crown = noted.Previous.Crown,
            TreatedBy = noted.Previous.By,
            Probed = noted.Probed,
            DeepProbing = noted.IsolatedDeepProbing?.Value.ToString("0.##", CultureInfo.InvariantCulture),
            ThoughtOfFracture = noted.IsolatedDeepProbing is not null,
            Before = noted.RestorableBefore,
            AfterTakeDown = noted.RestorableAfterTakeDown,
            ExplorationAgreed = noted.ExplorationOnlyAgreed,
            ExplorationFee = noted.ExplorationFee?.Amount,
            Findings = noted.Findings,
            Roots = [.. UsualRoots(it).Select(root => RootLine.Of(root, noted.Roots.FirstOrDefault(found => found.Root == root)))],
        };
    }

    internal Answer<Assessment> Read(int thisYear, string? feeCurrencyCode)
    {
        if (!Typed.Number("The year of the last treatment", Year, string.Empty, 1930, thisYear).TryGet(out var year, out var refusal)
            || !Typed.Millimetres("The isolated deep pocket", DeepProbing, 1, 20).TryGet(out var deep, out refusal))
        {
            return refusal;
        }

        if (year.Value is { } whole && whole % 1 != 0)
        {
            return new Refusal("not_a_year", $"The year of the last treatment: “{Year!.Trim()}” is not a year.", "Enter it with four digits, such as 2018, or leave it empty.");
        }

        if (deep.Value is { } depth && !ThoughtOfFracture)
        {
            return new Refusal(
                "isolated_deep_probing",
                string.Create(CultureInfo.InvariantCulture, $"An isolated pocket of {depth.Value:0.##} mm may mean that the root is fractured."),
                "Think again before treating: look under magnification, look at the film along the whole root, and ask whether the tooth can be kept at all. If you go on, say below that you thought of it.");
        }

        Money? fee = null;
        if (Typed.Text(ExplorationFee) is { } told && !Money.Read("The fee for exploration only", told, feeCurrencyCode).TryGet(out fee, out refusal))
        {
            return refusal;
        }

        if (ExplorationAgreed && fee is null)
        {
            return new Refusal("no_fee", "The patient agreed to exploration only, and no fee for it is entered.", "Enter the fee that the patient was told, 0 where there is none.");
        }

        var roots = new List<RootFinding>();
        foreach (var line in Roots)
        {
            if (!line.Read().TryGet(out var finding, out refusal))
            {
                return refusal;
            }

            if (finding.PeriapicalIndex is not null || finding.LesionDiameter is not null || finding.Note is not null)
            {
                roots.Add(finding);
            }
        }

        return new Assessment(
            Pulpal,
            Apical,
            new PreviousTreatment((int?)year.Value, OldFilling, Typed.Text(Post), Typed.Text(Crown), Typed.Text(TreatedBy)),
            roots,
            deep.Value,
            Probed || deep.Value is not null,
            Before,
            AfterTakeDown,
            ExplorationAgreed,
            fee,
            Typed.Text(Findings));
    }

    // Roots that the tooth is sure to have, and those that were noted besides.
    private static IEnumerable<string> UsualRoots(DentalCase it) =>
        ExpectedCanals.Of(it.Tooth).Where(canal => canal.IsUsual).Select(canal => canal.Root)
            .Concat(it.Canals.Select(canal => canal.Root))
            .Concat(it.Assessment.Roots.Select(root => root.Root))
            .Distinct(StringComparer.OrdinalIgnoreCase);
}

/// <summary>What is being typed about one root.</summary>
public sealed class RootLine
{
    /// <summary>The root.</summary>
    public string Root { get; set; } = string.Empty;

    /// <summary>Periapical index, 1 to 5; nothing when not read.</summary>
    public string? PeriapicalIndex { get; set; }

    /// <summary>Greatest diameter of the lesion in mm.</summary>
    public string? Lesion { get; set; }

    /// <summary>Anything else.</summary>
    public string? Note { get; set; }

    internal static RootLine Of(string root, RootFinding? found) => new()
    {
        Root = root,
        PeriapicalIndex = found?.PeriapicalIndex?.ToString(CultureInfo.InvariantCulture),
        Lesion = found?.LesionDiameter?.Value.ToString("0.##", CultureInfo.InvariantCulture),
        Note = found?.Note,
    };

    internal Answer<RootFinding> Read()
    {
        var words = ExpectedCanals.RootInWords(Root);
        if (!Typed.Number($"Periapical index, {words}", PeriapicalIndex, string.Empty, 1, 5).TryGet(out var index, out var refusal)
            || !Typed.Millimetres($"Lesion, {words}", Lesion, 0.1, 60).TryGet(out var lesion, out refusal))
        {
            return refusal;
        }

        return index.Value is { } value && value % 1 != 0
            ? new Refusal("not_an_index", $"Periapical index, {words}: “{PeriapicalIndex!.Trim()}” is not a whole number.", "Choose 1 to 5.")
            : new RootFinding(Root, (int?)index.Value, lesion.Value, Typed.Text(Note));
    }
}
