using System.Security.Cryptography;
using Secondpass.Domain;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Instruments;
using Secondpass.Job.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Instruments;

/// <summary>The clinic's instruments: kinds, stock with uses, the ultrasonic unit, sequences, solvent and limits.</summary>
/// <param name="store">Where they are kept.</param>
public sealed class KeepInstruments(ClinicStore store)
{
    /// <summary>The clinic as it is now, each instrument with all its uses: those it had before and those at the chair.</summary>
    public Clinic Read()
    {
        var clinic = store.Clinic.Read();
        return clinic.WithUses(clinic.Items.ToDictionary(item => item.Id, item => item.Uses + store.Cases.Uses(item.Id, clinic.UseCount)));
    }

    /// <summary>Notes what was sent.</summary>
    /// <param name="form">What was typed; its <see cref="InstrumentsForm.Which"/> says what to note.</param>
    /// <param name="by">Who notes it.</param>
    /// <returns>The clinic; or a refusal that quotes what can't be, or says that somebody changed it meanwhile.</returns>
    public Answer<Clinic> Note(InstrumentsForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        return ReadEvent(form).TryGet(out var noted, out var refusal)
            ? store.Clinic.Append(form.Version, by.Author, [noted])
            : refusal;
    }

    private Answer<ClinicEvent> ReadEvent(InstrumentsForm form)
    {
        var clinic = store.Clinic.Read();
        return form.Which switch
        {
            "add" => As(form.ReadItem(clinic, RandomNumberGenerator.GetHexString(8, lowercase: true)), item => item),
            "place" => OfItem(form, clinic, id => new ItemPlaced(id, Typed.Text(form.Position))),
            "retire" => OfItem(form, clinic, id => new ItemRetired(id, Typed.Text(form.Reason) ?? "taken out of use")),
            "unit" => As(form.ReadUnit(), unit => new UltrasonicUnitEntered(unit)),
            "sequence" => As(form.ReadSequence(), sequence => new SequenceSaved(sequence)),
            "give-up" => GiveUp(form, clinic),
            "solvent" => new SolventPreferred(new SolventPreference(Solvents.Find(form.Solvent)?.Code, Typed.Text(form.SolventNote))),
            "count" => As(form.ReadUseCount(), chosen => chosen),
            "limits" => As(form.ReadLimits(), limits => new PlanLimitsSet(limits)),
            "kind" => As(form.ReadKind(clinic), kind => new KindEntered(kind)),
            _ => new Refusal("nothing_sent", "Nothing was sent that can be noted.", "Open the page anew."),
        };
    }

    private static Answer<ClinicEvent> GiveUp(InstrumentsForm form, Clinic clinic) => clinic.Sequences.Count == 1
        ? new Refusal("last_sequence", $"“{form.SequenceName}” is the only sequence: a plan needs one.", "Save another one first.")
        : new SequenceGivenUp(form.SequenceName ?? string.Empty);

    private static Answer<ClinicEvent> OfItem(InstrumentsForm form, Clinic clinic, Func<string, ClinicEvent> note) =>
        clinic.Items.Any(item => item.Id == form.ItemId)
            ? note(form.ItemId!)
            : new Refusal("item_unknown", "This instrument is not in stock.", "Open the page anew.");

    private static Answer<ClinicEvent> As<T>(Answer<T> read, Func<T, ClinicEvent> note)
        where T : notnull =>
        read.TryGet(out var value, out var refusal) ? note(value) : refusal;
}
