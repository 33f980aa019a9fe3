using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Cases;

/// <summary>The table of canals as it is being typed.</summary>
public sealed class CanalsForm
{
    /// <summary>The version of the case that the form was filled from.</summary>
    public long Version { get; set; }

    /// <summary>The canals, parents before children or not.</summary>
    public List<CanalLine> Canals { get; set => field = value ?? []; } = [];

    /// <summary>What else was asked when it was sent: the name of an expected canal that was found, <see cref="Another"/>, or nothing.</summary>
    public string? Add { get; set; }

    /// <summary>The root that is to be left alone, when that was asked; or nothing.</summary>
    public string? LeaveAlone { get; set; }

    /// <summary>The root that is to be treated after all, when that was asked; or nothing.</summary>
    public string? Treat { get; set; }

    /// <summary>Why roots are left alone, one line for each root that has canals.</summary>
    public List<LeftAloneLine> Reasons { get; set => field = value ?? []; } = [];

    /// <summary>One of the ready reasons, when that was tapped: the root, a colon, the reason; or nothing.</summary>
    public string? Because { get; set; }

    /// <summary>Ready reasons for leaving a root alone; any other can be typed.</summary>
    public static IReadOnlyList<string> ReadyReasons { get; } =
        ["filling sound, no lesion", "post can't be taken out safely", "to be treated surgically", "patient's wish"];

    /// <summary>What stands in <see cref="Add"/> for a canal or branch that is still to be named.</summary>
    public const string Another = "another";

    /// <summary>The form filled from a case; a case without canals begins with the usual ones of its tooth, not judged yet.</summary>
    public static CanalsForm Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return new CanalsForm
        {
            Version = it.Version,
            Reasons = [.. RootState.Of(it).Where(root => root.Canals.Count > 0).Select(root => new LeftAloneLine { Root = root.Root, Why = root.WhyLeftAlone })],
            Canals = it.Canals.Count > 0
                ? [.. it.Canals.Select(CanalLine.Of)]
                : [.. ExpectedCanals.Of(it.Tooth).Where(expected => expected.IsUsual).Select(expected => CanalLine.New(expected.Name, expected.Root))],
        };
    }

    /// <summary>Adds the canal that was asked for in <see cref="Add"/>, if any: an expected one as found, another one to be named.</summary>
    /// <param name="it">The case.</param>
    /// <returns>The line that was added; null when none was asked for or it is there already.</returns>
    public CanalLine? AddWhatWasAsked(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        if (Typed.Text(Add) is not { } name || Canals.Any(canal => string.Equals(canal.Name, name, StringComparison.OrdinalIgnoreCase)))
        {
            return null;
        }

        var root = ExpectedCanals.Of(it.Tooth).FirstOrDefault(expected => string.Equals(expected.Name, name, StringComparison.OrdinalIgnoreCase))?.Root;
        var line = CanalLine.New(root is null ? string.Empty : name, root ?? ExpectedCanals.Of(it.Tooth)[0].Root);
        line.FoundLater = it.Chairside.Count > 0;
        line.Filling = root is null ? CanalFilling.NotJudged : CanalFilling.Unfilled;
        Canals.Add(line);
        return line;
    }

    internal Answer<IReadOnlyList<CanalRecord>> Read(DentalCase it)
    {
        foreach (var line in Canals)
        {
            line.Intent = line.Root == LeaveAlone ? CanalIntent.LeaveAlone : line.Root == Treat ? CanalIntent.Retreat : line.Intent;
        }

        var records = new List<CanalRecord>();
        foreach (var line in Canals.Where(line => !line.Remove))
        {
            if (!line.Read(it).TryGet(out var record, out var refusal))
            {
                return refusal;
            }

            records.Add(record.Intent == CanalIntent.LeaveAlone ? record with { WhyLeftAlone = WhyAlone(record.Root) } : record);
        }

        return Ordered(records);
    }

    private string? WhyAlone(string root) =>
        Because?.Split(':', 2) is [var tapped, var ready] && string.Equals(tapped, root, StringComparison.OrdinalIgnoreCase)
            ? Typed.Text(ready)
            : Typed.Text(Reasons.FirstOrDefault(line => string.Equals(line.Root, root, StringComparison.OrdinalIgnoreCase))?.Why);

    // Parents before children; a name that is twice there, a parent that isn't, a circle.
    private static Answer<IReadOnlyList<CanalRecord>> Ordered(List<CanalRecord> records)
    {
        foreach (var record in records)
        {
            if (records.Count(other => string.Equals(other.Name, record.Name, StringComparison.OrdinalIgnoreCase)) > 1)
            {
                return new Refusal("canal_twice", $"Two canals are called “{record.Name}”.", "Give one of them another name, such as MB2 or D2.");
            }

            if (record.Parent is { } parent && !records.Any(other => other.Name == parent && other.Name != record.Name))
            {
                return new Refusal("no_such_parent", $"{record.Name} leaves or joins “{parent}”, which is not one of the canals.", "Choose one of the canals of this tooth, or none.");
            }
        }

        var ordered = new List<CanalRecord>();
        while (ordered.Count < records.Count)
        {
            var next = records.Where(record => !ordered.Contains(record) && (record.Parent is null || ordered.Exists(done => done.Name == record.Parent))).ToArray();
            if (next.Length == 0)
            {
                var circle = records.Except(ordered).Select(record => record.Name);
                return new Refusal("canals_in_a_circle", $"{string.Join(" and ", circle)} are branches of each other.", "Make one of them the trunk: choose none as its parent.");
            }

            ordered.AddRange(next);
        }

        return ordered;
    }
}

/// <summary>Why a root is left alone, as it is being typed.</summary>
public sealed class LeftAloneLine
{
    /// <summary>The root.</summary>
    public string? Root { get; set; }

    /// <summary>The reason.</summary>
    public string? Why { get; set; }
}

/// <summary>One canal or branch as it is being typed.</summary>
public sealed class CanalLine
{
    /// <summary>What stands in <see cref="Meets"/> for a branch that splits off.</summary>
    public const string Splits = "splits";

    /// <summary>What stands in <see cref="Meets"/> for a branch that joins.</summary>
    public const string Joins = "joins";

    /// <summary>Anatomical name.</summary>
    public string? Name { get; set; }

    /// <summary>Its name when the form was filled; null for a new one. Keeps what the form doesn't show.</summary>
    public string? WasNamed { get; set; }

    /// <summary>Its root.</summary>
    public string? Root { get; set; }

    /// <summary>Whether it was found.</summary>
    public bool Found { get; set; }

    /// <summary>How its old filling stands.</summary>
    public CanalFilling Filling { get; set; }

    /// <summary>From the filling's end to the canal's end, in mm: short is positive, beyond is negative.</summary>
    public string? FillingEnd { get; set; }

    /// <summary>How far off centre the filling lies, in mm.</summary>
    public string? OffCentre { get; set; }

    /// <summary>What is to be done with it.</summary>
    public CanalIntent Intent { get; set; }

    /// <summary>The canal that it splits off or joins.</summary>
    public string? Parent { get; set; }

    /// <summary><see cref="Splits"/> or <see cref="Joins"/>.</summary>
    public string? Meets { get; set; }

    /// <summary>Level of the split or join, in mm from the end.</summary>
    public string? MeetsFromEnd { get; set; }

    /// <summary>Plane of the split or join.</summary>
    public MeetingPlane Plane { get; set; }

    /// <summary>What stands in the way.</summary>
    public List<Obstacle> Obstacles { get; set => field = value ?? []; } = [];

    /// <summary>Whether it was added during treatment.</summary>
    public bool FoundLater { get; set; }

    /// <summary>Whether the line is to be taken out.</summary>
    public bool Remove { get; set; }

    internal static CanalLine New(string name, string root) => new() { Name = name, Root = root, Found = true };

    internal static CanalLine Of(CanalRecord canal) => new()
    {
        Name = canal.Name,
        WasNamed = canal.Name,
        Root = canal.Root,
        Found = canal.Found,
        Filling = canal.Filling,
        FillingEnd = Number(canal.FillingEndToCanalEnd),
        OffCentre = Number(canal.OffCentre),
        Intent = canal.Intent,
        Parent = canal.Parent,
        Meets = canal.Meeting is { Joins: true } ? Joins : Splits,
        MeetsFromEnd = Number(canal.Meeting?.FromEnd),
        Plane = canal.Meeting?.Plane ?? MeetingPlane.Unknown,
        Obstacles = [.. canal.Obstacles],
        FoundLater = canal.FoundLater,
    };

    internal Answer<CanalRecord> Read(DentalCase it)
    {
        var name = Typed.Text(Name);
        if (name is null or { Length: > 20 })
        {
            return new Refusal(
                "canal_name",
                name is null ? "A canal has no name." : $"The name “{name}” has more than 20 characters.",
                "Name it by its anatomy, such as MB2, DL or P.");
        }

        var longest = CanalAnatomy.GreatestLengthMillimetres.Value;
        var parent = Typed.Text(Parent);
        if (!Typed.Millimetres($"{name}, filling end", FillingEnd, -longest, longest).TryGet(out var end, out var refusal)
            || !Typed.Millimetres($"{name}, off centre", OffCentre, 0, CanalAnatomy.GreatestOffCentreMillimetres.Value).TryGet(out var off, out refusal)
            || !Typed.Millimetres($"{name}, level of the {(Meets == Joins ? "join" : "split")}", MeetsFromEnd, 0, Shortest(it)).TryGet(out var level, out refusal))
        {
            return refusal;
        }

        if (WhyEndDoesNotFit(name, end.Value) is { } contradiction)
        {
            return contradiction;
        }

        var before = it.Canals.FirstOrDefault(canal => canal.Name == (Typed.Text(WasNamed) ?? name));
        return new CanalRecord(
            name,
            Typed.Text(Root) ?? ExpectedCanals.Only,
            parent,
            parent is null ? null : new CanalMeeting(Meets == Joins, level.Value, Plane),
            Found,
            Filling,
            end.Value,
            off.Value,
            Intent,
            [.. Obstacles.Distinct()],
            before?.Lengths ?? [],
            FoundLater);
    }

    // A level counts from the end: it can't lie further up than the canal is long, where a length was read.
    private double Shortest(DentalCase it) =>
        it.Canals.FirstOrDefault(canal => canal.Name == Typed.Text(WasNamed))?.Lengths
            .Where(length => length.To is LengthEnd.RadiographicApex or LengthEnd.Foramen && it.Holds(length))
            .Select(length => length.Length.Value)
            .DefaultIfEmpty(CanalAnatomy.GreatestLengthMillimetres.Value)
            .Min() ?? CanalAnatomy.GreatestLengthMillimetres.Value;

    private Refusal? WhyEndDoesNotFit(string name, Millimetres? end)
    {
        var means = Filling switch
        {
            CanalFilling.BeyondEnd when end is { Value: > 0 } => "“beyond” is chosen",
            CanalFilling.ShortOfEnd when end is { Value: < 0 } => "“short” is chosen",
            CanalFilling.Unfilled when end is not null => "“not filled” is chosen",
            _ => null,
        };
        return means is null ? null : new Refusal(
            "filling_end_contradicts",
            string.Create(CultureInfo.InvariantCulture, $"{name}: {means}, and the filling end says {end!.Value.Value:0.##} mm."),
            "Short of the end is a positive number, beyond it a negative one; nothing where there is no filling.");
    }

    private static string? Number(Millimetres? length) => length?.Value.ToString("0.##", CultureInfo.InvariantCulture);
}
