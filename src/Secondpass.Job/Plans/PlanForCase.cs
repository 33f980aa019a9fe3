using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Cases;
using Secondpass.Job.Documents;
using Secondpass.Job.Instruments;
using Secondpass.Records;

namespace Secondpass.Job.Plans;

/// <summary>The plan of a case: made from its canals, its marked film, its scan and the clinic's stock; chosen, it belongs to the case.</summary>
/// <param name="store">Where the case is kept.</param>
/// <param name="shelf">The films.</param>
/// <param name="instruments">The clinic's instruments with their uses.</param>
public sealed class PlanForCase(ClinicStore store, FilmShelf shelf, KeepInstruments instruments)
{
    /// <summary>Makes the plan without keeping it.</summary>
    /// <param name="it">The case.</param>
    /// <param name="form">What the dentist set.</param>
    /// <returns>The plan; or a refusal that quotes what can't be, or says that there is nothing to remove.</returns>
    public Answer<RemovalPlan> Show(DentalCase it, PlanForm form)
    {
        ArgumentNullException.ThrowIfNull(it);
        ArgumentNullException.ThrowIfNull(form);
        if (!form.ReadSettings().TryGet(out var settings, out var refusal))
        {
            return refusal;
        }

        var said = Said(it, settings, instruments.Read());
        return PlanRemoval.Prepare(it.Tooth, said, Measured(it), Typed.Text(form.Sequence)).TryGet(out var inputs, out refusal) && PlanRemoval.Plan(inputs).TryGet(out var planned, out refusal)
            ? planned.Plan with { Assumptions = [.. LengthsThatNoLongerHold(it), .. planned.Plan.Assumptions] }
            : refusal;
    }

    /// <summary>Makes the plan and notes it as the one chosen.</summary>
    /// <param name="id">The case.</param>
    /// <param name="form">What the dentist set.</param>
    /// <param name="by">Who chooses it.</param>
    /// <returns>The case; or a refusal as for <see cref="Show"/>, or that somebody changed the case meanwhile.</returns>
    public Answer<DentalCase> Choose(CaseId id, PlanForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        return store.Cases.Read(id).TryGet(out var it, out var refusal) && Show(it, form).TryGet(out var plan, out refusal) && form.ReadSettings().TryGet(out var settings, out refusal)
            ? store.Cases.Append(id, form.Version, by.Author, [new PlanChosen(plan, settings)])
            : refusal;
    }

    /// <summary>What is known of a case for a plan, besides its marked film.</summary>
    /// <param name="it">The case.</param>
    /// <param name="settings">What the dentist set.</param>
    /// <param name="clinic">The clinic's instruments, sequences and limits.</param>
    internal static CasePlanning Said(DentalCase it, PlanSettings settings, Clinic clinic) => new(
        it.Assessment.Previous.Filling,
        new TakeDown(it.Assessment.Previous.Crown, settings.Core, it.Assessment.Previous.Post),
        settings.ResinFollows,
        [.. it.Canals.Select(canal => WithScan(canal, it.ConeBeam) with { Lengths = [.. canal.Lengths.Where(it.Holds)] })],
        it.Canals.Where(canal => WallsOf(canal, it.ConeBeam).Count > 0).ToDictionary(canal => canal.Name, canal => CanalMeasures.None with { Walls = WallsOf(canal, it.ConeBeam) }),
        settings.Canals,
        clinic);

    // The film on which canals were marked last. One that can't be read any more leaves only what was typed.
    private MeasuredFilm? Measured(DentalCase it) =>
        Marks(it) is { } marks
        && shelf.Find(marks.Film).TryGet(out var film, out _)
        && CaseReader.Read(Encoding.UTF8.GetBytes(marks.Document)).TryGet(out var marked, out _)
        && MeasureCanals.Measure(film, marked.WithScaleOf(it, marks.Film)).TryGet(out var measured, out _)
            ? measured
            : null;

    private static (string Film, string Document)? Marks(DentalCase it) =>
        it.Measured is [.., var measured]
            ? (measured.FilmSha256, measured.CaseDocument)
            : it.Comparisons is [.., var compared] ? (compared.BeforeSha256, compared.CaseDocument) : null;

    private static IEnumerable<string> LengthsThatNoLongerHold(DentalCase it) =>
        it.Canals.Where(canal => canal.Intent == CanalIntent.Retreat && !canal.Lengths.All(it.Holds))
            .Select(canal => $"{canal.Name}: lengths read before its reference point was reduced or lost don't count.");

    private static CanalRecord WithScan(CanalRecord canal, ConeBeamReading? scan) =>
        canal.Meeting?.FromEnd is null && scan?.Meetings.GetValueOrDefault(canal.Name) is { FromEnd: not null } read && canal.Parent is not null
            ? canal with { Meeting = read }
            : canal;

    private static List<WallAtLevel> WallsOf(CanalRecord canal, ConeBeamReading? scan) =>
        [.. (scan?.Walls ?? []).Where(wall => wall.Canal == canal.Name).Select(wall => new WallAtLevel(wall.FromEnd, wall.Side, wall.Thickness, default(Millimetres), WallSource.ConeBeamScan))];
}
