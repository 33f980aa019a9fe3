using System.Globalization;
using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Chairside;
using Secondpass.Job.Documents;
using Secondpass.Job.Finish;
using Secondpass.Job.Instruments;
using Secondpass.Job.Letters;
using Secondpass.Job.Plans;
using Secondpass.Records;
using Secondpass.Records.Events;

namespace Secondpass.Job.Demo;

/// <summary>The invented clinic: plays its stories through the jobs that a dentist's forms go through, so that nothing in it could not have been entered.</summary>
public sealed class OpenDemoClinic
{
    private const string Story = "story.json";
    private const string Device = "invented clinic";
    private const int Yesterday = -1;

    private readonly string folder;
    private readonly ClinicStore store;
    private readonly StoryClock clock;
    private readonly FilmShelf shelf;
    private readonly ReceiveFilm receive;
    private readonly AttachFilm films;
    private readonly KeepInstruments instruments;
    private readonly WriteReply letters;
    private Writer by = new("Dr Example", Device);
    private long entries;

    private OpenDemoClinic(string folder, ClinicStore store, StoryClock clock)
    {
        this.folder = folder;
        this.store = store;
        this.clock = clock;
        shelf = new FilmShelf(store);
        receive = new ReceiveFilm(store, shelf, new FilmsInUse(clock));
        films = new AttachFilm(store, receive, new ReceivePaper(store));
        instruments = new KeepInstruments(store);
        letters = new WriteReply(store, new FilmsOfLetters(shelf, clock), clock);
    }

    /// <summary>Plays the stories that are missing yet, and what is missing of those that were broken off, into a store that holds nothing but the invented clinic.</summary>
    /// <param name="storiesFolder">The folder of the invented clinic: <c>clinic.json</c>, and a folder with <c>story.json</c> for each case.</param>
    /// <param name="dataFolder">The data folder.</param>
    /// <param name="time">The real clock: the stories end a day before today.</param>
    /// <param name="address">Where the events are: null for a database in the folder, or the address of a PostgreSQL database.</param>
    /// <param name="stop">Stops after the step that is being played; the rest is played the next time.</param>
    /// <returns>How many cases were opened or continued; or a refusal: <c>holds_other_cases</c>, where nothing is touched; of the store; or of what a story enters, which is a defect of the demonstration.</returns>
    public static Answer<int> Play(string storiesFolder, string dataFolder, TimeProvider time, string? address = null, CancellationToken stop = default)
    {
        ArgumentNullException.ThrowIfNull(time);
        var clock = new StoryClock(time);
        if (!ClinicStore.Open(dataFolder, clock, address).TryGet(out var store, out var refusal))
        {
            return refusal;
        }

        using (store)
        {
            return Directory.Exists(storiesFolder) ? new OpenDemoClinic(storiesFolder, store, clock).PlayMissing(stop) : 0;
        }
    }

    private Answer<int> PlayMissing(CancellationToken stop)
    {
        var details = DemoStory.Read<DemoClinicDetails>(Path.Combine(folder, "clinic.json"));
        var stories = Directory.EnumerateDirectories(folder)
            .Select(one => Path.Combine(one, Story))
            .Where(File.Exists)
            .Order(StringComparer.Ordinal)
            .Select(DemoStory.Read<DemoStory>)
            .ToArray();
        var there = store.Cases.List();
        var others = there.Count(line => stories.All(story => story.PatientNumber != line.PatientNumber));
        if (others > 0)
        {
            return HoldsOthers(FormattableString.Invariant($"{others} {(others == 1 ? "case that is" : "cases that are")} not the invented clinic's"));
        }

        if (Furnish(details) is { } refusal)
        {
            return refusal;
        }

        var played = 0;
        foreach (var story in stories)
        {
            var line = there.SingleOrDefault(one => one.PatientNumber == story.PatientNumber);
            if (!PlayMissing(story, line, stop).TryGet(out var any, out refusal))
            {
                return refusal;
            }

            played += any ? 1 : 0;
        }

        return played;
    }

    // The clinic becomes the invented one when nothing is known of it. Each form is one event, so their number says which come next.
    private Refusal? Furnish(DemoClinicDetails details)
    {
        var clinic = store.Clinic.Read();
        if (clinic.Version > 0 && clinic.Details?.Name != details.Letterhead.Name)
        {
            return HoldsOthers("another clinic's letterhead or instruments");
        }

        if (store.Clinic.Devices().Any(device => device != Device))
        {
            return null;
        }

        clock.Set(-90, new TimeOnly(8, 0));
        if (clinic.Version == 0 && !new Letterhead(store).Keep(details.Letterhead, by).TryGet(out _, out var refusal))
        {
            return refusal;
        }

        foreach (var form in details.Instruments.Skip((int)Math.Max(0, clinic.Version - 1)))
        {
            form.Version = store.Clinic.Read().Version;
            if (!instruments.Note(form, by).TryGet(out _, out refusal))
            {
                return refusal;
            }
        }

        return null;
    }

    // Whether anything was missing.
    private Answer<bool> PlayMissing(DemoStory story, CaseLine? line, CancellationToken stop)
    {
        // Entries from the chair are numbered by device: each story has its own.
        by = by with { Device = $"{Device}, {story.PatientNumber}" };
        entries = 0;
        DentalCase? so = null;
        HashSet<DateTimeOffset> playedAt = [];
        clock.CountFromToday();
        if (line is not null)
        {
            if (!store.Cases.History(line.Id).TryGet(out var history, out var unreadable) || !store.Cases.Read(line.Id).TryGet(out so, out unreadable))
            {
                return unreadable;
            }

            // What somebody changed is theirs. What was broken off on an earlier day goes on with that day's dates.
            clock.CountFrom(history[0].At, story.Steps[0].Day ?? Yesterday);
            if (history.Any(one => one.Device != by.Device) || history[^1].At >= EndOf(story))
            {
                return false;
            }

            // No two steps of a story stand at one time, so their times say which were played.
            playedAt = [.. history.Select(one => one.At)];
        }

        var any = false;
        var day = Yesterday;
        foreach (var step in story.Steps.TakeWhile(_ => !stop.IsCancellationRequested))
        {
            day = step.Day ?? day;
            clock.Set(day, step.Time);
            if (playedAt.Contains(clock.GetUtcNow()))
            {
                entries += step.IsAtTheChair ? 1 : 0;
                continue;
            }

            var answer = so is null
                ? new OpenCase(store, new ReceivePaper(store), new ClinicHabits(store)).Open(step.Referral!, null, by)
                : Do(so, step);
            if (!answer.TryGet(out so, out var refusal))
            {
                // Somebody works in this case already: it is theirs.
                return refusal.Code == "case_changed" ? any : refusal;
            }

            any = true;
        }

        return any;
    }

    private DateTimeOffset EndOf(DemoStory story)
    {
        clock.Set(story.Steps.Select(step => step.Day).LastOrDefault(day => day is not null) ?? Yesterday, story.Steps[^1].Time);
        return clock.GetUtcNow();
    }

    private Answer<DentalCase> Do(DentalCase it, DemoStep step)
    {
        switch (step)
        {
            case { Assessment: { } assessment }:
                assessment.Version = it.Version;
                return new AssessTooth(store, clock).Assess(it.Id, assessment, by);
            case { Films: { } taken }:
                return films.TakeIn([.. taken.Files.Select(file => new SentFile(Path.GetFileName(file), Bytes(file)))]).TryGet(out var ready, out var notTaken)
                    ? films.Attach(it.Id, it.Version, ready, new FilmTaken(taken.Moment, taken.Shift), Confirmation.None, by)
                    : notTaken;
            case { Canals: { } canals }:
                canals.Version = it.Version;
                return new NoteCanals(store, films).Note(it.Id, canals, [], by);
            case { Measure: { } measure }:
                return new MeasureForCase(store, shelf).Note(it.Id, it.Version, Hash(measure.Film), measure.Marks.GetRawText(), by);
            case { Scan: { } scan }:
                scan.Version = it.Version;
                return new ReadScan(store).Read(it.Id, scan, by);
            case { Length: { } length }:
                length.Version = it.Version;
                return new NoteLength(store).Note(it.Id, length, by);
            case { Plan: { } plan }:
                plan.Version = it.Version;
                return new PlanForCase(store, shelf, instruments).Choose(it.Id, plan, by);
            case { Mark: { } mark }:
                return new LogChairside(store, clock).Mark(it.Id, Numbered(mark), by);
            case { Step: { } done }:
                done.ItemId = store.Clinic.Read().Items.FirstOrDefault(item => item.Position is { } position && position == done.ItemId)?.Id;
                return new LogChairside(store, clock).Step(it.Id, Numbered(done), by);
            case { Seen: { } seen }:
                return new LogChairside(store, clock).Seen(it.Id, Numbered(seen), by);
            case { Event: { } happened }:
                return new LogChairside(store, clock).Happened(it.Id, Numbered(happened), by);
            case { Compare: { } comparison }:
                return Compare(it, comparison);
            case { Finish: { } finish }:
                finish.Note.Version = it.Version;
                finish.Note.Visit = Math.Max(1, finish.Note.Visit);
                finish.Note.CallOn = Day(finish.CallDay);
                finish.Note.RestorationUntil = Day(finish.RestorationDay);
                return new FinishVisit(store).Finish(it.Id, finish.Note, by);
            default:
                return letters.Draft(it.Id, step.Letter).TryGet(out var drafted, out var refusal) ? letters.Make(it.Id, drafted.Form, by) : refusal;
        }
    }

    private Answer<DentalCase> Compare(DentalCase it, DemoComparison said)
    {
        // Kept, and broken off before the case knew.
        if (store.KeptComparisons().FirstOrDefault(one => one.Label == said.Label && one.BeforeSha256 == Hash(said.Before) && one.AfterSha256 == Hash(said.After)) is { } earlier)
        {
            return new CompareForCase(store).Attach(it.Id.Value, earlier.Id, by);
        }

        var undecided = new UndecidedComparisons();
        var marks = said.Marks.GetRawText();
        return shelf.Find(Hash(said.Before)).TryGet(out var before, out var refusal)
            && shelf.Find(Hash(said.After)).TryGet(out var after, out refusal)
            && CaseReader.Read(Encoding.UTF8.GetBytes(marks)).TryGet(out var marked, out refusal)
            && CompareFilms.Compare(before, after, marked).TryGet(out var compared, out refusal)
            && new KeepComparison(store, undecided, receive, clock).Keep(undecided.Hold(compared, it.Tooth, marks).Id, said.Label).TryGet(out var kept, out refusal)
                ? new CompareForCase(store).Attach(it.Id.Value, kept.Id, by)
                : refusal;
    }

    private static Refusal HoldsOthers(string what) => new(
        "holds_other_cases",
        $"The store holds {what}: the invented cases never stand among patients, so none was added.",
        "Start with --demo alone, which keeps them in a data folder of their own; or name an empty folder or database.");

    private T Numbered<T>(T form)
        where T : ChairsideForm
    {
        form.Key = ++entries;
        form.Visit = Math.Max(1, form.Visit);
        return form;
    }

    private byte[] Bytes(string file) => File.ReadAllBytes(Path.Combine(folder, file));

    private string Hash(string file) => store.KeepFilm(Bytes(file)).Value;

    private string? Day(int? fromToday) => fromToday is { } day ? clock.Day(day).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : null;
}
