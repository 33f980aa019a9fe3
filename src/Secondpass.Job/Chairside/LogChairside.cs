using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Instruments;
using Secondpass.Job.Cases;
using Secondpass.Records;
using Secondpass.Records.Events;

namespace Secondpass.Job.Chairside;

/// <summary>Notes what happens at the chair. Entries are added and never changed; the same entry sent twice counts once.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="time">The clock.</param>
public sealed class LogChairside(ClinicStore store, TimeProvider time)
{
    /// <summary>The longest length that makes sense in a tooth, in mm.</summary>
    public const double LongestMillimetres = 40;

    /// <summary>Marks a moment: now, or earlier on the day of the visit where it was forgotten.</summary>
    /// <returns>The case; or a refusal: no such time, a time that has not come, no case, disk full.</returns>
    public Answer<DentalCase> Mark(CaseId id, MarkForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !At(form.Time, DayOf(it, form.Visit)).TryGet(out var at, out refusal))
        {
            return refusal;
        }

        return Note(it, form, by, new MomentMarked(form.Visit, at.Value, form.Mark, Typed.Text(form.Canal)));
    }

    /// <summary>Ticks off a step of taking the tooth apart.</summary>
    /// <returns>The case; or a refusal: nothing said, no case, disk full.</returns>
    public Answer<DentalCase> TakeDown(CaseId id, TakeDownForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        return Typed.Text(form.What) is { } what
            ? Note(it, form, by, new TakenDown(form.Visit, time.GetUtcNow(), what))
            : new Refusal("nothing_taken_down", "It is not said what was taken off or out.", "Tap the step that was done.");
    }

    /// <summary>Notes a step with an instrument, with the depth as read.</summary>
    /// <returns>The case; or a refusal: no canal, no instrument, a depth without its reference point, no case, disk full.</returns>
    public Answer<DentalCase> Step(CaseId id, StepForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal)
            || !CanalOf(form).TryGet(out var canal, out refusal)
            || !Reading(it, canal, form.Depth, form.Reference, form.To, form.Source).TryGet(out var depth, out refusal))
        {
            return refusal;
        }

        if (Typed.Text(form.Instrument) is not { } instrument)
        {
            return new Refusal("no_instrument", "It is not said with which instrument.", "Choose it, or say it by size, taper and kind.");
        }

        var kind = Typed.Text(form.KindCode) is { } code && KindOf(code) is { } planned && planned.Name == instrument
            ? planned
            : store.Clinic.Read().Kinds.FirstOrDefault(known => known.Name == instrument);
        var item = store.Clinic.Read().Items.FirstOrDefault(known => known.Id == form.ItemId && known.KindCode == kind?.Code);
        return Note(it, form, by, new StepDone(form.Visit, time.GetUtcNow(), canal, instrument, kind?.Code, item?.Id, depth.Value, Typed.Text(form.Note)));
    }

    /// <summary>Instruments by name, to choose from.</summary>
    public IReadOnlyList<string> Instruments() => [.. store.Clinic.Read().Kinds.Select(kind => kind.Name)];

    /// <summary>Instruments of a kind in stock, each with the use that this visit, or this canal of it, is for it, such as "kit A, 3: use 3 of 5".</summary>
    /// <param name="kindCode">The kind.</param>
    /// <param name="it">The case.</param>
    /// <param name="visit">Number of the visit.</param>
    /// <param name="canal">The canal in hand; null when none is.</param>
    public IReadOnlyList<(string Id, string Words)> Items(string? kindCode, DentalCase it, int visit, string? canal)
    {
        ArgumentNullException.ThrowIfNull(it);
        if (KindOf(kindCode) is not { } kind)
        {
            return [];
        }

        // One that is in use now, in this visit or in this canal of it, is not used once more.
        var clinic = store.Clinic.Read();
        var inUse = ChairsideRecord.OfVisit(it.Chairside, visit).OfType<StepDone>()
            .Where(step => clinic.UseCount != UseCount.PerCanal || step.Canal == canal)
            .Select(step => step.ItemId)
            .ToHashSet();
        return
        [
            .. clinic.Items
                .Where(item => item.KindCode == kindCode && !item.Retired)
                .Select(item => item with { Uses = item.Uses + store.Cases.Uses(item.Id, clinic.UseCount) - (inUse.Contains(item.Id) ? 1 : 0) })
                .Select(item => (item.Id, $"{item.CalledBy}: {item.NextUse(kind)}")),
        ];
    }

    private InstrumentKind? KindOf(string? code) => store.Clinic.Read().Kinds.FirstOrDefault(kind => kind.Code == code);

    /// <summary>Notes what the eye saw in a canal.</summary>
    /// <returns>The case; or a refusal: no canal, no such level, neither seen nor clean, no case, disk full.</returns>
    public Answer<DentalCase> Seen(CaseId id, SeenForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal)
            || !CanalOf(form).TryGet(out var canal, out refusal)
            || !Typed.Millimetres("The level", form.Level, 0, LongestMillimetres).TryGet(out var level, out refusal))
        {
            return refusal;
        }

        if (form.FillingSeen is not { } seen)
        {
            return new Refusal("seen_or_clean", "It is not said whether filling was seen.", "Tap “Filling seen” or “Seen clean”.");
        }

        return Note(it, form, by, new SeenByEye(form.Visit, time.GetUtcNow(), canal, seen, seen ? Typed.Text(form.Wall) : null, level.Value));
    }

    /// <summary>Notes an event.</summary>
    /// <returns>The case; or a refusal: a length that can't be, a level without its reference point, no such time, no case, disk full.</returns>
    public Answer<DentalCase> Happened(CaseId id, EventForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        var canal = Typed.Text(form.Canal);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal)
            || !Typed.Millimetres("The fragment's length", form.FragmentLength, 0.1, LongestMillimetres).TryGet(out var fragment, out refusal)
            || !Reading(it, canal, form.Level, form.Reference, LengthEnd.FileStop, LengthSource.InstrumentStop).TryGet(out var level, out refusal)
            || !At(form.ToldTime, DayOf(it, form.Visit)).TryGet(out var told, out refusal))
        {
            return refusal;
        }

        var toldTo = Typed.Text(form.ToldTo);
        return Note(it, form, by, new EventHappened(
            form.Visit,
            time.GetUtcNow(),
            canal,
            form.Event,
            form.Event == ProceduralEvent.SeparatedInstrument ? fragment.Value : null,
            level.Value,
            toldTo,
            toldTo is null ? null : told.Value,
            Typed.Text(form.Note)));
    }

    /// <summary>Corrects an entry: with another time, with who was told meanwhile, or it doesn't hold at all. Both entries stay.</summary>
    /// <returns>The case; or a refusal: no reason, no such entry, no such time, no case, disk full.</returns>
    public Answer<DentalCase> Correct(CaseId id, CorrectionForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        if (ChairsideRecord.Read(it.Chairside).FirstOrDefault(entry => entry.Number == form.Entry) is not { Holds: { } holds })
        {
            return new Refusal(
                "no_such_entry",
                string.Create(CultureInfo.InvariantCulture, $"There is no entry {form.Entry} that holds."),
                "Choose the entry from the list again.");
        }

        if (!At(form.Time, DayOf(it, holds.Visit)).TryGet(out var at, out refusal) || !At(form.ToldTime, DayOf(it, holds.Visit)).TryGet(out var told, out refusal))
        {
            return refusal;
        }

        var isTold = holds is EventHappened && Typed.Text(form.ToldTo) is not null;
        if (Typed.Text(form.Reason) is not { } reason)
        {
            if (!isTold)
            {
                return new Refusal("no_reason", "It is not said what was wrong.", "Say it in a few words, such as “tapped late”.");
            }

            reason = "told since";
        }

        ChairsideEntry? instead = isTold
            ? (EventHappened)holds with { ToldTo = Typed.Text(form.ToldTo), ToldAt = told.Value }
            : Typed.Text(form.Time) is not null ? holds with { At = at.Value } : null;
        return Note(it, form, by, new EntryCorrected(form.Visit, time.GetUtcNow(), form.Entry, reason, instead));
    }

    // A second tap sends the same number a moment later: the entry is there already, apart from its time.
    private Answer<DentalCase> Note(DentalCase before, ChairsideForm form, Writer by, ChairsideEntry entry)
    {
        if (store.Cases.AppendEntry(before.Id, new EntryKey(by.Device, form.Key), by.Author, entry).TryGet(out var it, out var refusal))
        {
            return it;
        }

        return refusal.Code == "entry_number_taken"
            && store.Cases.Read(before.Id).TryGet(out var now, out _)
            && now.Chairside.Any(noted => WithoutTimes(noted, entry) == entry)
                ? now
                : refusal;
    }

    private static ChairsideEntry WithoutTimes(ChairsideEntry noted, ChairsideEntry like) => (noted, like) switch
    {
        (EventHappened happened, EventHappened second) => happened with { At = second.At, ToldAt = second.ToldAt },
        (EntryCorrected { Instead: EventHappened told } corrected, EntryCorrected { Instead: EventHappened toldAgain } second) => corrected with { At = second.At, Instead = told with { ToldAt = toldAgain.ToldAt } },
        _ => noted with { At = like.At },
    };

    private static Answer<string> CanalOf(ChairsideForm form) => Typed.Text(form.Canal) is { } canal
        ? canal
        : new Refusal("no_canal", "It is not said in which canal.", "Choose the canal first; canals are noted on the page “Canals”.");

    private static Answer<MaybeReading> Reading(DentalCase it, string? canal, string? typed, string? reference, LengthEnd to, LengthSource source)
    {
        if (!Typed.Millimetres("The depth", typed, 0, LongestMillimetres).TryGet(out var length, out var refusal))
        {
            return refusal;
        }

        if (length.Value is not { } millimetres)
        {
            return new MaybeReading(null);
        }

        if (Typed.Text(reference) is not { } name)
        {
            return new Refusal(
                "no_reference",
                $"{Typed.Text(typed)} mm is given, and not from where it was read.",
                "Name the reference point, such as “mesiobuccal cusp”.");
        }

        // A cusp that was reduced has a newer version: lengths noted now are read from that one.
        var version = it.Canals
            .Where(record => canal is null || record.Name == canal)
            .SelectMany(record => record.Lengths)
            .Where(known => string.Equals(known.From.Name, name, StringComparison.OrdinalIgnoreCase))
            .Select(known => known.From.Version)
            .DefaultIfEmpty(1)
            .Max();
        return new MaybeReading(new LengthReading(new ReferencePoint(name, version), to, millimetres, source));
    }

    /// <summary>The day of the visit on the clinic's wall; today when nothing was noted in it yet.</summary>
    private DateOnly DayOf(DentalCase it, int visit)
    {
        var first = ChairsideRecord.OfVisit(it.Chairside, visit) is [var earliest, ..] ? earliest.At : time.GetUtcNow();
        return DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(first, time.LocalTimeZone).DateTime);
    }

    private Answer<Moment> At(string? typed, DateOnly day)
    {
        var now = time.GetUtcNow();
        if (Typed.Text(typed) is not { } text)
        {
            return new Moment(now);
        }

        if (!TimeOnly.TryParseExact(text, ["H:mm", "HH:mm", "H:mm:ss", "HH:mm:ss"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var clock))
        {
            return new Refusal("no_such_time", $"“{text}” is not a time of day.", "Enter hours and minutes, such as 09:45.");
        }

        var local = day.ToDateTime(clock);
        var at = new DateTimeOffset(local, time.LocalTimeZone.GetUtcOffset(local)).ToUniversalTime();
        return at > now
            ? new Refusal("time_to_come", $"{text} has not come yet.", "Enter when it was.")
            : new Moment(at);
    }

    private readonly record struct Moment(DateTimeOffset Value);

    private readonly record struct MaybeReading(LengthReading? Value);
}
