using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>Notes what shows what films hide: a cone-beam scan, or two films with the tube shifted.</summary>
/// <param name="store">Where it is kept.</param>
public sealed class ReadScan(ClinicStore store)
{
    /// <summary>Notes the findings of a scan.</summary>
    /// <param name="id">The case.</param>
    /// <param name="form">The findings as typed.</param>
    /// <param name="by">Who read it.</param>
    /// <returns>The case; or a refusal that quotes what can't be, or that somebody changed the case meanwhile.</returns>
    public Answer<DentalCase> Read(CaseId id, ScanForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        return form.Read().TryGet(out var reading, out var refusal)
            ? store.Cases.Append(id, form.Version, by.Author, [new ConeBeamRead(reading)])
            : refusal;
    }

    /// <summary>Notes what two films with the tube shifted tell.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="typed">What was seen, as typed.</param>
    /// <param name="by">Who looked.</param>
    /// <returns>The case; or a refusal: nothing named, the tube stood alike on both, changed meanwhile.</returns>
    public Answer<DentalCase> Read(CaseId id, long version, ParallaxReading typed, Writer by)
    {
        ArgumentNullException.ThrowIfNull(typed);
        ArgumentNullException.ThrowIfNull(by);
        if (Typed.Text(typed.Thing) is not { } thing || Typed.Text(typed.ComparedWith) is not { } against)
        {
            return new Refusal("nothing_named", "It is not said what moved, or against what.", "Name both, such as “the second filling” against “MB1”.");
        }

        var reading = typed with { Thing = thing, ComparedWith = against };
        return reading.Side().TryGet(out _, out var refusal)
            ? store.Cases.Append(id, version, by.Author, [new ParallaxRead(reading)])
            : refusal;
    }
}
