using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>A length as it is being typed.</summary>
public sealed class LengthForm
{
    /// <summary>The version of the case that the form was filled from.</summary>
    public long Version { get; set; }

    /// <summary>The canal.</summary>
    public string? Canal { get; set; }

    /// <summary>The reference point's name.</summary>
    public string? Reference { get; set; }

    /// <summary>To which end.</summary>
    public LengthEnd To { get; set; }

    /// <summary>The length in mm.</summary>
    public string? Length { get; set; }

    /// <summary>How it was read.</summary>
    public LengthSource Source { get; set; }
}

/// <summary>Notes lengths exactly as they were read, and reference points that were reduced or lost.</summary>
/// <param name="store">Where it is kept.</param>
public sealed class NoteLength(ClinicStore store)
{
    /// <summary>Notes a length.</summary>
    /// <param name="id">The case.</param>
    /// <param name="form">The length as typed.</param>
    /// <param name="by">Who read it.</param>
    /// <returns>The case; or a refusal: no such canal, no reference point, no or an impossible length, changed meanwhile.</returns>
    public Answer<DentalCase> Note(CaseId id, LengthForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal)
            || !Typed.Millimetres($"The length of {form.Canal}", form.Length, 1, CanalAnatomy.GreatestLengthMillimetres.Value).TryGet(out var length, out refusal))
        {
            return refusal;
        }

        if (it.Canals.FirstOrDefault(canal => canal.Name == form.Canal) is not { } canal)
        {
            return new Refusal("no_such_canal", $"“{form.Canal}” is not one of the canals of this tooth.", "Note the canal first, on the page Canals.");
        }

        if (Typed.Text(form.Reference) is not { } reference)
        {
            return new Refusal("no_reference", "It is not said from where the length was read.", "Name the place on the tooth, such as “mesiobuccal cusp”.");
        }

        if (length.Value is not { } read)
        {
            return new Refusal("no_length", $"No length is entered for {form.Canal}.", "Enter it in mm as it was read.");
        }

        var reading = new LengthReading(it.ReferencePoint(reference), form.To, read, form.Source);
        return store.Cases.Append(
            id,
            form.Version,
            by.Author,
            [new CanalsNoted([.. it.Canals.Select(one => one == canal ? one with { Lengths = [.. one.Lengths, reading] } : one)])]);
    }

    /// <summary>Notes that a reference point was reduced or lost: the lengths read from it no longer hold.</summary>
    /// <param name="id">The case.</param>
    /// <param name="version">The version that the page was filled from.</param>
    /// <param name="reference">The reference point.</param>
    /// <param name="reason">What happened to it.</param>
    /// <param name="by">Who notes it.</param>
    /// <returns>The case; or a refusal: no point, no reason, changed meanwhile.</returns>
    public Answer<DentalCase> Lose(CaseId id, long version, string? reference, string? reason, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        return (Typed.Text(reference), Typed.Text(reason)) is ({ } name, { } why)
            ? store.Cases.Append(id, version, by.Author, [new ReferencePointLost(name, why)])
            : new Refusal("no_reason", "It is not said which reference point was lost, or how.", "Choose the point and say what happened, such as “cusp reduced by 1 mm”.");
    }
}
