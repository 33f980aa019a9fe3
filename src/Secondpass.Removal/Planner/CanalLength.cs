using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;

namespace Secondpass.Removal.Planner;

/// <summary>The length that a canal is planned by, chosen among its readings.</summary>
/// <param name="End">The reading to the end; null when there is none that still holds.</param>
/// <param name="Holding">All readings from the reference point as it stands now.</param>
/// <param name="Void">Readings from a reference point that was reduced since.</param>
internal sealed record CanalLength(LengthReading? End, IReadOnlyList<LengthReading> Holding, int Void)
{
    /// <summary>Whether a length meter has read the end.</summary>
    public bool ReadByMeter => End?.Source == LengthSource.LengthMeter;

    /// <summary>How far driven instruments keep from the end, in mm.</summary>
    public double MarginMillimetres => ReadByMeter ? PlanFacts.MeterLengthMargin.Value : PlanFacts.FilmLengthMargin.Value;

    /// <summary>The end in words.</summary>
    public string EndInWords => End is null ? "end" : InWords(End.To);

    /// <summary>Chooses: the latest state of the reference point; of its readings a length meter's before others, then working length, foramen, radiographic apex.</summary>
    public static CanalLength Of(CanalRecord canal)
    {
        if (canal.Lengths.Count == 0)
        {
            return new CanalLength(null, [], 0);
        }

        var latest = canal.Lengths.GroupBy(reading => reading.From.Name).ToDictionary(group => group.Key, group => group.Max(reading => reading.From.Version));
        List<LengthReading> holding = [.. canal.Lengths.Where(reading => reading.From.Version == latest[reading.From.Name])];
        var end = holding
            .Where(reading => reading.To is LengthEnd.WorkingLength or LengthEnd.Foramen or LengthEnd.RadiographicApex)
            .OrderBy(reading => reading.Source == LengthSource.LengthMeter ? 0 : 1)
            .ThenBy(reading => reading.To switch { LengthEnd.WorkingLength => 0, LengthEnd.Foramen => 1, _ => 2 })
            .FirstOrDefault();
        return new CanalLength(end, holding, canal.Lengths.Count - holding.Count);
    }

    /// <summary>A reading's place short of the end, in mm; null when it can't be related to the end.</summary>
    /// <param name="to">What was read to.</param>
    public double? FromEnd(LengthEnd to) =>
        End is { } end && Holding.LastOrDefault(reading => reading.To == to && reading.From == end.From) is { } reading
            ? end.Length.Value - reading.Length.Value
            : null;

    public static string InWords(LengthEnd end) => end switch
    {
        LengthEnd.RadiographicApex => "radiographic apex",
        LengthEnd.Foramen => "foramen",
        LengthEnd.WorkingLength => "working length",
        LengthEnd.FileStop => "place where a file stopped",
        LengthEnd.FillingEnd => "end of the filling",
        _ => "meeting",
    };

    public static string InWords(LengthSource source) => source switch
    {
        LengthSource.Film => "read on a film",
        LengthSource.FilmWithFile => "read on a film with a file in place",
        LengthSource.LengthMeter => "read by a length meter",
        LengthSource.ConeBeamScan => "read on a cone-beam scan",
        _ => "read by the stop on an instrument",
    };
}
