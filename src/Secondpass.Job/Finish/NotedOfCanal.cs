using System.Globalization;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Job.Chairside;

namespace Secondpass.Job.Finish;

/// <summary>What a case holds of how a canal was finished, before the finish note of a visit is written.</summary>
/// <param name="Finish">What can be filled in: only what somebody noted.</param>
/// <param name="Words">Where each of it was noted, and what was noted beside it, in sentences.</param>
public sealed record NotedOfCanal(CanalFinish Finish, IReadOnlyList<string> Words)
{
    /// <summary>What is noted of a canal up to a visit.</summary>
    /// <remarks>
    /// A working length of this visit goes before an earlier finish note, and that before what it was itself written from. A length
    /// whose reference point was reduced or lost since is not filled in.
    /// </remarks>
    /// <param name="it">The case.</param>
    /// <param name="visit">Number of the visit.</param>
    /// <param name="canal">The canal.</param>
    public static NotedOfCanal Of(DentalCase it, int visit, string canal)
    {
        ArgumentNullException.ThrowIfNull(it);
        var entries = Enumerable.Range(1, visit).SelectMany(number => ChairsideRecord.OfVisit(it.Chairside, number)).ToList();
        var depths = entries.OfType<StepDone>().Where(step => step.Canal == canal && step.Depth is { } depth && it.Holds(depth)).ToList();
        var chair = depths.FindLast(step => step.Depth!.To == LengthEnd.WorkingLength);
        var table = it.Canals.FirstOrDefault(record => record.Name == canal)?.Lengths.LastOrDefault(length => length.To == LengthEnd.WorkingLength && it.Holds(length));
        var (before, earlier) = it.Finishes
            .Where(note => note.Key < visit)
            .OrderByDescending(note => note.Key)
            .Select(note => (note.Key, Line: note.Value.Canals.FirstOrDefault(line => line.Canal == canal)))
            .FirstOrDefault(note => note.Line is not null);
        var earlierHolds = earlier is { WorkingLength: not null, ReferencePoint: { } point } && !it.ReferencePointsLost.ContainsKey(point);

        var (length, from) = chair is not null && chair.Visit > before ? (chair.Depth!.Length, chair.Depth.From.Name)
            : earlierHolds ? (earlier!.WorkingLength, earlier.ReferencePoint)
            : (chair?.Depth ?? table) is { } reading ? (reading.Length, reading.From.Name)
            : (null, (string?)null);
        var planned = it.PlanSettings.Canals.GetValueOrDefault(canal)?.Final?.Words;

        return new NotedOfCanal(
            new CanalFinish(canal, length, from, earlier?.MasterApicalFile, earlier?.MasterCone, earlier?.Method),
            [.. Sentences().OfType<string>()]);

        IEnumerable<string?> Sentences()
        {
            yield return chair is not null
                ? $"Noted at the chair in visit {Number(chair.Visit)}: working length {Read(chair.Depth!)}."
                : depths.LastOrDefault() is { } other && length is null
                    ? $"No working length is noted. Last depth at the chair, visit {Number(other.Visit)}: {ShownVisit.Words(other.Depth!)}."
                    : null;
            yield return table is not null ? $"Noted with the canals: working length {Read(table)}." : null;
            yield return earlier is not null ? $"Finish note of visit {Number(before)}: {InWords(earlier, earlierHolds)}." : null;
            yield return planned is null || earlier?.MasterApicalFile is not null
                ? null
                : $"Final size planned: {planned}. A plan is not filled in: enter the file that really was the last.";
        }
    }

    private static string Read(LengthReading reading) => $"{ShownVisit.Length(reading.Length)} from the {reading.From.Name}, {ShownVisit.Words(reading.Source)}";

    private static string InWords(CanalFinish finish, bool lengthHolds)
    {
        var said = new[]
        {
            finish.WorkingLength is { } length ? $"working length {ShownVisit.Length(length)} from the {finish.ReferencePoint}{(lengthHolds ? string.Empty : ", a point that was reduced or lost")}" : null,
            finish.MasterApicalFile is { } file ? $"master apical file {file}" : null,
            finish.MasterCone is { } cone ? $"master cone {cone}" : null,
            finish.Method is { } method ? $"filled by {method}" : null,
        }.OfType<string>().ToList();
        return said.Count == 0 ? "nothing of this canal" : string.Join(", ", said);
    }

    private static string Number(int visit) => visit.ToString(CultureInfo.InvariantCulture);
}
