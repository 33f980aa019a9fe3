using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Job.Cases;

/// <summary>Findings from a cone-beam scan as they are being typed: one line for each canal, one for each wall.</summary>
public sealed class ScanForm
{
    /// <summary>The version of the case that the form was filled from.</summary>
    public long Version { get; set; }

    /// <summary>One line for each canal of the case and each that is expected.</summary>
    public List<ScanCanalLine> Canals { get; set => field = value ?? []; } = [];

    /// <summary>Walls; empty lines are left out.</summary>
    public List<ScanWallLine> Walls { get; set => field = value ?? []; } = [];

    /// <summary>Anything else.</summary>
    public string? Note { get; set; }

    /// <summary>The form filled from a case.</summary>
    public static ScanForm Of(DentalCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        var names = it.Canals.Select(canal => canal.Name)
            .Concat(ExpectedCanals.Of(it.Tooth).Select(canal => canal.Name))
            .Concat(it.ConeBeam?.CanalNames ?? [])
            .Distinct(StringComparer.OrdinalIgnoreCase);
        return new ScanForm
        {
            Version = it.Version,
            Canals = [.. names.Select(name => ScanCanalLine.Of(name, it.ConeBeam))],
            Walls = [.. (it.ConeBeam?.Walls ?? []).Select(ScanWallLine.Of), .. Enumerable.Range(0, 3).Select(_ => new ScanWallLine())],
            Note = it.ConeBeam?.Note,
        };
    }

    internal Answer<ConeBeamReading> Read()
    {
        var meetings = new Dictionary<string, CanalMeeting>();
        var curves = new Dictionary<string, double>();
        foreach (var line in Canals)
        {
            if (!Typed.Millimetres($"{line.Name}, level of the {(line.Meets == CanalLine.Splits ? "split" : "join")}", line.MeetsFromEnd, 0, CanalAnatomy.GreatestLengthMillimetres.Value).TryGet(out var level, out var refusal)
                || !Typed.Number($"{line.Name}, curve", line.CurveDegrees, "degrees", 0, 180).TryGet(out var curve, out refusal))
            {
                return refusal;
            }

            if ((curve.Value is not null || Typed.Text(line.Meets) is not null || level.Value is not null) && !line.Seen)
            {
                return new Refusal("canal_not_seen", $"Something is entered about {line.Name}, and it is not marked as seen on the scan.", "Mark it as seen, or empty its line.");
            }

            if (Typed.Text(line.Meets) is { } meets)
            {
                meetings[line.Name] = new CanalMeeting(meets == CanalLine.Joins, level.Value, line.Plane);
            }

            if (curve.Value is { } degrees)
            {
                curves[line.Name] = degrees;
            }
        }

        var walls = new List<WallReading>();
        foreach (var line in Walls.Where(line => Typed.Text(line.Thickness) is not null || Typed.Text(line.FromEnd) is not null))
        {
            if (!Typed.Millimetres($"Wall of {line.Canal}, level", line.FromEnd, 0, CanalAnatomy.GreatestLengthMillimetres.Value).TryGet(out var level, out var refusal)
                || !Typed.Millimetres($"Wall of {line.Canal}, thickness", line.Thickness, 0, 10).TryGet(out var thickness, out refusal))
            {
                return refusal;
            }

            if (level.Value is not { } at || thickness.Value is not { } thick)
            {
                return new Refusal("wall_incomplete", $"The {line.Side} wall of {line.Canal} has a level or a thickness and not both.", "Enter both in mm, or empty the line.");
            }

            walls.Add(new WallReading(line.Canal, at, line.Side, thick));
        }

        return new ConeBeamReading([.. Canals.Where(line => line.Seen).Select(line => line.Name)], meetings, curves, walls, Typed.Text(Note));
    }
}

/// <summary>What is being typed about one canal on a scan.</summary>
public sealed class ScanCanalLine
{
    /// <summary>The canal.</summary>
    public string Name { get; set; } = string.Empty;

    /// <summary>Whether the scan shows it.</summary>
    public bool Seen { get; set; }

    /// <summary><see cref="CanalLine.Splits"/>, <see cref="CanalLine.Joins"/> or nothing.</summary>
    public string? Meets { get; set; }

    /// <summary>Level in mm from the end.</summary>
    public string? MeetsFromEnd { get; set; }

    /// <summary>Plane.</summary>
    public MeetingPlane Plane { get; set; }

    /// <summary>Curve that a film hides, in degrees.</summary>
    public string? CurveDegrees { get; set; }

    internal static ScanCanalLine Of(string name, ConeBeamReading? scan)
    {
        var meeting = scan?.Meetings.GetValueOrDefault(name);
        return new ScanCanalLine
        {
            Name = name,
            Seen = scan?.CanalNames.Contains(name) ?? false,
            Meets = meeting is null ? null : meeting.Joins ? CanalLine.Joins : CanalLine.Splits,
            MeetsFromEnd = meeting?.FromEnd?.Value.ToString("0.##", CultureInfo.InvariantCulture),
            Plane = meeting?.Plane ?? MeetingPlane.Unknown,
            CurveDegrees = scan is not null && scan.BuccolingualCurveDegrees.TryGetValue(name, out var curve) ? curve.ToString("0.##", CultureInfo.InvariantCulture) : null,
        };
    }
}

/// <summary>What is being typed about one wall on a scan.</summary>
public sealed class ScanWallLine
{
    /// <summary>The canal.</summary>
    public string Canal { get; set; } = string.Empty;

    /// <summary>mesial, distal, buccal or lingual.</summary>
    public string Side { get; set; } = "distal";

    /// <summary>Level in mm from the end.</summary>
    public string? FromEnd { get; set; }

    /// <summary>Thickness in mm.</summary>
    public string? Thickness { get; set; }

    internal static ScanWallLine Of(WallReading wall) => new()
    {
        Canal = wall.Canal,
        Side = wall.Side,
        FromEnd = Number(wall.FromEnd),
        Thickness = Number(wall.Thickness),
    };

    private static string Number(Millimetres length) => length.Value.ToString("0.##", CultureInfo.InvariantCulture);
}
