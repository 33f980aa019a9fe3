using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Documents;

/// <summary>Reads what a case file says for a plan: numbers in the ranges that a tooth and an instrument can have, names that exist.</summary>
/// <param name="shape">The checked text, which knows where each value stands.</param>
internal sealed class PlanningReader(DocumentShape shape)
{
    private const double LongestCanal = 40;
    private const double WidestCanal = 5;

    private readonly List<CanalRecord> canals = [];
    private readonly Dictionary<string, CanalMeasures> measures = [];
    private readonly Dictionary<string, CanalChoice> choices = [];
    private Refusal? wrong;

    /// <summary>Reads it.</summary>
    /// <param name="document">The document; its canals' names are known to differ.</param>
    /// <returns>What was said; or the first thing wrong with it, with its place.</returns>
    public Answer<CasePlanning> Read(CaseDocument document)
    {
        Canals(document.Canals, "canals", trunk: null);
        var clinic = ReadClinic(document.Clinic);
        return wrong is { } refusal
            ? refusal
            : new CasePlanning(
                Word(document.Filling, OldFilling.Unknown),
                new TakeDown(document.Crown?.Trim(), document.Core?.Trim(), document.Post?.Trim()),
                document.ResinFollows ?? false,
                canals,
                measures,
                choices,
                clinic);
    }

    private void Canals(IReadOnlyList<CanalDocument> documents, string path, string? trunk)
    {
        for (var i = 0; i < documents.Count; i++)
        {
            Canal(documents[i], Item(path, i), trunk);
        }
    }

    private void Canal(CanalDocument document, string path, string? trunk)
    {
        var name = document.Name.Trim();
        var end = Within(document.FillEndMm, -LongestCanal, LongestCanal, $"{path}.fill_end_mm", "mm");
        var filled = Word(document.Filled, end is { } judged ? FillingLength.Classify(new Millimetres(judged)) : CanalFilling.NotJudged);
        var meets = Meeting(document.Meets, $"{path}.meets");
        var parent = document.Meets?.Canal?.Trim() ?? trunk;
        if (document.Meets is not null && parent is null)
        {
            Wrong($"{path}.meets", "meeting_of_one", "the meeting names no other canal, and this canal is not a branch.", "Give canal, the name of the other one.");
        }

        canals.Add(new CanalRecord(
            name,
            document.Root?.Trim() ?? name,
            parent,
            parent is null ? null : meets ?? new CanalMeeting(Joins: false, null, MeetingPlane.Unknown),
            Found: Word(document.Intent, CanalIntent.Retreat) != CanalIntent.LookFor,
            filled,
            end is { } shortOfEnd ? new Millimetres(shortOfEnd) : null,
            null,
            Word(document.Intent, CanalIntent.Retreat),
            [.. (document.Obstacles ?? []).Select(word => Word(word, Obstacle.Ledge)).Distinct()],
            [.. (document.Lengths ?? []).Select((length, i) => Length(length, Item($"{path}.lengths", i)))],
            FoundLater: false));

        var widths = Widths(document, path);
        List<WallAtLevel> walls = [.. (document.Walls ?? []).Select((wall, i) => Wall(wall, Item($"{path}.walls", i)))];
        if (widths.Count + walls.Count > 0)
        {
            measures[name] = new CanalMeasures(null, widths, walls, null);
        }

        if (Choice(document, path) is { } choice)
        {
            choices[name] = choice;
        }

        Canals(document.Branches ?? [], $"{path}.branches", name);
    }

    private LengthReading Length(LengthDocument document, string path)
    {
        var length = Within(document.Mm, 0.5, LongestCanal, $"{path}.mm", "mm");
        var version = Within(document.ReferenceVersion ?? 1, 1, 100, $"{path}.reference_version", string.Empty);
        return new LengthReading(
            new ReferencePoint(document.From.Trim(), (int)version),
            Word(document.To, LengthEnd.RadiographicApex),
            new Millimetres(length),
            Word(document.Source, LengthSource.Film));
    }

    private CanalMeeting? Meeting(MeetingDocument? document, string path) => document is null
        ? null
        : new CanalMeeting(
            document.Joins,
            Within(document.FromEndMm, 0, LongestCanal, $"{path}.from_end_mm", "mm") is { } level ? new Millimetres(level) : null,
            Word(document.Plane, MeetingPlane.Unknown));

    private WallAtLevel Wall(WallDocument document, string path) => new(
        new Millimetres(Within(document.FromEndMm, 0, LongestCanal, $"{path}.from_end_mm", "mm")),
        document.Side.Trim(),
        new Millimetres(Within(document.Mm, 0, 10, $"{path}.mm", "mm")),
        default,
        WallSource.ConeBeamScan);

    // Both lists at the levels of either; a level that only one has is filled in from its neighbours.
    private List<WidthAtLevel> Widths(CanalDocument document, string path)
    {
        var filling = Rows(document.FillingWidth, $"{path}.filling_width");
        var canal = Rows(document.CanalWidth, $"{path}.canal_width");
        return
        [
            .. filling.Concat(canal).Select(row => row.FromEnd).Distinct().Order()
                .Select(level => new WidthAtLevel(new Millimetres(level), At(filling, level), At(canal, level))),
        ];
    }

    private List<(double FromEnd, double Width)> Rows(IReadOnlyList<double[]>? rows, string path) =>
    [
        .. (rows ?? [])
            .Select((row, i) => (Within(row[0], -LongestCanal, LongestCanal, Item(path, i), "mm from the end"), Within(row[1], 0, WidestCanal, Item(path, i), "mm wide")))
            .OrderBy(row => row.Item1),
    ];

    private static Millimetres? At(List<(double FromEnd, double Width)> rows, double level)
    {
        var after = rows.FindIndex(row => row.FromEnd >= level);
        if (after < 0 || (after == 0 && rows[0].FromEnd > level))
        {
            return null;
        }

        if (rows[after].FromEnd == level)
        {
            return new Millimetres(rows[after].Width);
        }

        var share = (level - rows[after - 1].FromEnd) / (rows[after].FromEnd - rows[after - 1].FromEnd);
        return new Millimetres(double.Lerp(rows[after - 1].Width, rows[after].Width, share));
    }

    private CanalChoice? Choice(CanalDocument document, string path)
    {
        if (document.FinalTaper is not null && document.FinalSize is null)
        {
            Wrong($"{path}.final_taper", "size_missing", "a final taper stands without a final size.", "Give final_size too.");
        }

        var size = Within(document.FinalSize, 6, 140, $"{path}.final_size", string.Empty);
        var taper = Within(document.FinalTaper ?? (document.FinalSize is null ? null : 0.02), 0, 0.2, document.FinalTaper is null ? path : $"{path}.final_taper", "mm per mm");
        return document.NoDeeperThanMm is null && size is null
            ? null
            : new CanalChoice(
                document.NoDeeperThanMm is { } own ? new Millimetres(own) : null,
                size is { } given ? new FinalSize((int)given, taper ?? 0) : null);
    }

    private Clinic ReadClinic(ClinicDocument? document)
    {
        if (document is null)
        {
            return Clinic.Start;
        }

        var events = new List<ClinicEvent>();
        events.AddRange((document.Kinds ?? []).Select((kind, i) => new KindEntered(Kind(kind, Item("clinic.kinds", i)))));
        var known = Clinic.From(events).Kinds.Select(kind => kind.Code).ToHashSet();
        var ids = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        var items = document.Items ?? [];
        for (var i = 0; i < items.Count; i++)
        {
            var path = Item("clinic.items", i);
            Known(items[i].Kind, known, $"{path}.kind");
            if (!ids.Add(items[i].Id.Trim()))
            {
                Wrong($"{path}.id", "item_twice", $"{Quoted.Text(items[i].Id)} names another instrument already.", "Give each instrument an id of its own.");
            }

            events.Add(new ItemAdded(items[i].Id.Trim(), items[i].Kind.Trim(), items[i].Position?.Trim(), (int)Within(items[i].Uses, 0, 1000, $"{path}.uses", "uses")));
        }

        if (document.UltrasonicUnit is { } unit)
        {
            events.Add(new UltrasonicUnitEntered(new UltrasonicUnit(unit.Name.Trim(), unit.Thread?.Trim(), unit.Chuck?.Trim())));
        }

        var sequences = document.Sequences ?? [];
        for (var i = 0; i < sequences.Count; i++)
        {
            var path = Item("clinic.sequences", i);
            for (var step = 0; step < sequences[i].Steps.Count; step++)
            {
                Known(sequences[i].Steps[step].Kind, known, $"{Item($"{path}.steps", step)}.kind");
            }

            events.Add(new SequenceSaved(new Sequence(sequences[i].Name.Trim(), [.. sequences[i].Steps.Select((step, n) => Step(step, Item($"{path}.steps", n)))])));
        }

        if (document.Solvent is { } solvent)
        {
            if (Solvents.Find(solvent.Trim()) is null)
            {
                Wrong("clinic.solvent", "solvent_unknown", $"{Quoted.Text(solvent)} is not a solvent that is known here.", $"Known: {string.Join(", ", Solvents.All.Select(one => one.Code))}.");
            }

            events.Add(new SolventPreferred(new SolventPreference(solvent.Trim(), null)));
        }

        if (document.UseCount is not null)
        {
            events.Add(new UseCountChosen(Word(document.UseCount, UseCount.PerToothAndVisit)));
        }

        if (document.Limits is { } limits)
        {
            events.Add(new PlanLimitsSet(Limits(limits)));
        }

        return Clinic.From(events);
    }

    private InstrumentKind Kind(KindDocument document, string path)
    {
        var speed = document.SpeedRpm is { } range
            ? new SpeedRange(Within(range[0], 0, 100_000, $"{path}.speed_rpm", "rpm"), Within(range[1], range[0], 100_000, $"{path}.speed_rpm", "rpm"))
            : (SpeedRange?)null;
        return new InstrumentKind(
            document.Code.Trim(),
            document.Name.Trim(),
            Word(document.Sort, InstrumentSort.HandFile),
            (int?)Within(document.TipSize, 6, 140, $"{path}.tip_size", string.Empty),
            Within(document.Taper, 0, 0.2, $"{path}.taper", "mm per mm"),
            Mm(Within(document.CuttingLengthMm, 1, LongestCanal, $"{path}.cutting_length_mm", "mm")),
            Mm(Within(document.GreatestDiameterMm, 0.05, WidestCanal, $"{path}.greatest_diameter_mm", "mm")),
            null,
            speed,
            Within(document.TorqueNcm, 0, 100, $"{path}.torque_ncm", "N·cm"),
            (int?)Within(document.UsesPermitted, 1, 1000, $"{path}.uses_permitted", "uses"),
            document.Fitting?.Trim(),
            null);
    }

    private SequenceStep Step(SequenceStepDocument document, string path) => new(
        document.Kind.Trim(),
        Within(document.Rpm, 0, 100_000, $"{path}.rpm", "rpm"),
        Within(document.TorqueNcm, 0, 100, $"{path}.torque_ncm", "N·cm"),
        document.Note?.Trim());

    private PlanLimits Limits(LimitsDocument document)
    {
        var shipped = PlanLimits.Default;
        const string Path = "clinic.limits";
        return new PlanLimits(
            Mm(Within(document.WallLeftMm, 0, WidestCanal, $"{Path}.wall_left_mm", "mm")) ?? shipped.LeastWallLeft,
            Mm(Within(document.LossPerSideMm, 0, WidestCanal, $"{Path}.loss_per_side_mm", "mm")) ?? shipped.GreatestLossPerSide,
            Mm(Within(document.ConcavityMm, 0, WidestCanal, $"{Path}.concavity_mm", "mm")) ?? shipped.ConcavityAllowance,
            (int?)Within(document.Attempts, 1, 100, $"{Path}.attempts", "attempts") ?? shipped.Attempts,
            Within(document.LedgeMinutes, 1, 480, $"{Path}.ledge_minutes", "minutes") ?? shipped.LedgeMinutes,
            Within(document.WithdrawalMinutes, 1, 480, $"{Path}.withdrawal_minutes", "minutes") ?? shipped.WithdrawalMinutes);
    }

    private void Known(string code, HashSet<string> known, string path)
    {
        if (!known.Contains(code.Trim()))
        {
            var nearest = NearestWord.Of(code.Trim(), known);
            Wrong(path, "kind_unknown", $"{Quoted.Text(code)} is not a kind of instrument that is known here.", $"{(nearest is null ? string.Empty : $"Did you mean “{nearest}”? ")}Known: {string.Join(", ", known)}.");
        }
    }

    private static T Word<T>(string? word, T otherwise)
        where T : struct, Enum => EnumWords.TryRead<T>(word, out var value) ? value : otherwise;

    private static Millimetres? Mm(double? millimetres) => millimetres is { } given ? new Millimetres(given) : null;

    private double? Within(double? value, double least, double greatest, string path, string unit) =>
        value is { } given ? Within(given, least, greatest, path, unit) : null;

    private double Within(double value, double least, double greatest, string path, string unit)
    {
        if (value >= least && value <= greatest)
        {
            return value;
        }

        var of = unit.Length == 0 ? string.Empty : " " + unit;
        Wrong(
            path,
            "out_of_range",
            string.Create(CultureInfo.InvariantCulture, $"{value}{of} can't be; {least} to {greatest}{of} are expected."),
            "Check the value and its unit.");
        return least;
    }

    private void Wrong(string path, string code, string reason, string remedy) => wrong ??= shape.At(path, new Refusal(code, reason, remedy));

    private static string Item(string path, int index) => string.Create(CultureInfo.InvariantCulture, $"{path}[{index}]");
}
