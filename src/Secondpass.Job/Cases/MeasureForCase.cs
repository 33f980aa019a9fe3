using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Documents;
using Secondpass.Job.Plans;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>Canals marked on a film of the case are measured, and what was measured goes into the table of canals.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="shelf">The films.</param>
public sealed class MeasureForCase(ClinicStore store, FilmShelf shelf)
{
    /// <summary>Measures the marked canals and notes filling end, off centre and how the filling stands; a canal that was not in the table is added.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="filmSha256">The film, one of the case's.</param>
    /// <param name="marks">The marks, as the JSON document of the command line.</param>
    /// <param name="by">Who marked them.</param>
    /// <returns>The case; or a refusal: no such film, marks that can't be read or measured, a branch drawn otherwise than it is noted, changed meanwhile.</returns>
    public Answer<DentalCase> Note(CaseId id, long version, string filmSha256, string marks, Writer by)
    {
        ArgumentNullException.ThrowIfNull(marks);
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !FilmsOfCase.Own(it, filmSha256).TryGet(out _, out refusal))
        {
            return refusal;
        }

        if (!shelf.Find(filmSha256).TryGet(out var radiograph, out refusal)
            || !CaseReader.Read(Encoding.UTF8.GetBytes(marks)).TryGet(out var marked, out refusal)
            || !MeasureCanals.Measure(radiograph, marked.WithScaleOf(it, filmSha256)).TryGet(out var measured, out refusal))
        {
            return refusal;
        }

        if (marked.Tooth is { } tooth && tooth != it.Tooth)
        {
            return new Refusal(
                "marks_of_another_tooth",
                $"The marks are of the {tooth.Words}, {tooth}; the case is the {it.Tooth.Words}, {it.Tooth}.",
                "Mark the canals of this case's tooth.");
        }

        var canals = it.Canals.ToList();
        foreach (var (branch, parent) in measured.Trunks.SelectMany(trunk => WithParents(trunk, null)))
        {
            var place = canals.FindIndex(canal => string.Equals(canal.Name, branch.Name, StringComparison.OrdinalIgnoreCase));
            if (place >= 0 && NotedOtherwise(canals[place], parent) is { } otherwise)
            {
                return otherwise;
            }

            var known = place >= 0 ? canals[place] : NewCanal(it, branch.Name, canals.FirstOrDefault(canal => string.Equals(canal.Name, parent, StringComparison.OrdinalIgnoreCase)));
            var taken = Taken(known, branch, measured.Scale);
            if (place >= 0)
            {
                canals[place] = taken;
            }
            else
            {
                canals.Add(taken);
            }
        }

        return store.Cases.Append(id, version, by.Author, [new FilmMeasured(new MeasuredMarks(filmSha256, marks)), new CanalsNoted(canals)]);
    }

    private static IEnumerable<(TracedBranch Branch, string? Parent)> WithParents(TracedBranch branch, string? parent) =>
        branch.Branches.SelectMany(child => WithParents(child, branch.Name)).Prepend((branch, parent));

    /// <summary>A canal that joins another has an orifice of its own and is drawn from there; any other is drawn as it is noted.</summary>
    private static Refusal? NotedOtherwise(CanalRecord known, string? drawnFrom) =>
        (known.Meeting is { Joins: true } && drawnFrom is null) || string.Equals(known.Parent, drawnFrom, StringComparison.OrdinalIgnoreCase)
            ? null
            : new Refusal(
                "branch_noted_otherwise",
                $"{known.Name} is drawn as {AsBranch(drawnFrom)}; the table of canals has it as {AsBranch(known.Parent)}.",
                "Draw it as the table has it, or correct the table of canals first.");

    private static string AsBranch(string? parent) => parent is null ? "a canal of its own" : $"a branch of {parent}";

    private static CanalRecord NewCanal(DentalCase it, string name, CanalRecord? parent) => new(
        name,
        parent?.Root ?? ExpectedCanals.Of(it.Tooth).FirstOrDefault(canal => string.Equals(canal.Name, name, StringComparison.OrdinalIgnoreCase))?.Root ?? ExpectedCanals.Of(it.Tooth)[0].Root,
        parent?.Name,
        parent is null ? null : new CanalMeeting(Joins: false, null, MeetingPlane.Unknown),
        Found: true,
        CanalFilling.NotJudged,
        null,
        null,
        CanalIntent.Retreat,
        [],
        [],
        FoundLater: it.Chairside.Count > 0);

    private static CanalRecord Taken(CanalRecord canal, TracedBranch branch, Calibration? scale)
    {
        var measures = branch.Measures;
        var end = measures.FillingEndToCanalEnd is { } found ? Tenth(found.Value) : (Millimetres?)null;
        return canal with
        {
            Found = true,
            Filling = branch.Filling.FilledToPixels is null ? CanalFilling.Unfilled : end is { } measured ? FillingLength.Classify(measured) : canal.Filling,
            FillingEndToCanalEnd = end,
            OffCentre = measures.OffCentre is { } off ? Tenth(off.DifferenceMillimetres.Value) : null,

            // A level that was typed stays; the film's own fills one that was not known.
            Meeting = canal.Meeting is { Joins: false, FromEnd: null } meeting ? meeting with { FromEnd = SplitFromEnd(branch, scale) } : canal.Meeting,
        };
    }

    private static Millimetres? SplitFromEnd(TracedBranch branch, Calibration? scale) =>
        scale is not null && FilmSizes.LeavesAt(branch, scale) is { } split ? Tenth(split.Value) : null;

    // A film can't be read finer than that.
    private static Millimetres Tenth(double value) => new(Math.Round(value, 1, MidpointRounding.AwayFromZero) + 0.0);
}
