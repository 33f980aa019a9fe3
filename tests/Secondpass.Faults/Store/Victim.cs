using System.Diagnostics;
using System.Runtime.CompilerServices;
using Secondpass.App;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Job;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;
using Secondpass.Records;
using Secondpass.Records.Events;

namespace Secondpass.Faults.Store;

/// <summary>A process that works with a store until it is killed. It is this test program itself, started with a variable set.</summary>
internal static class Victim
{
    private const string FolderVariable = "SECONDPASS_VICTIM_FOLDER";
    private const string AddressVariable = "SECONDPASS_VICTIM_STORE";
    private const string PointVariable = "SECONDPASS_VICTIM_DIES_AT";
    private const string DemoVariable = "SECONDPASS_VICTIM_SERVES_DEMO";
    private const string ImportVariable = "SECONDPASS_VICTIM_IMPORTS";

    /// <summary>How many changes it makes before it ends by itself.</summary>
    public const int Changes = 400;

    /// <summary>Starts one.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="address">The store, or null for SQLite.</param>
    /// <param name="diesAt">The failpoint that it kills itself at, once three changes are made; null to be killed from outside.</param>
    public static Process Start(string folder, string? address, string? diesAt) => Start(folder, address, diesAt, changes: null, films: null);

    /// <summary>Starts one that serves the workbench with the invented clinic.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="address">The store, or null for SQLite.</param>
    /// <param name="changes">It kills itself when it has completed this many.</param>
    public static Process StartDemo(string folder, string? address, int changes) => Start(folder, address, Failpoints.AfterCommit, changes, films: null);

    /// <summary>Starts one that imports a folder of films into its only case, which it opens where there is none.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="address">The store, or null for SQLite.</param>
    /// <param name="films">The folder of films.</param>
    /// <param name="diesAt">The failpoint that it kills itself at while it stores films; null for none.</param>
    /// <param name="times">When it comes there for this time.</param>
    public static Process StartImport(string folder, string? address, string films, string? diesAt, int times) => Start(folder, address, diesAt, times, films);

    private static Process Start(string folder, string? address, string? diesAt, int? changes, string? films)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!)
        {
            RedirectStandardOutput = true,
            Environment = { [FolderVariable] = folder, [AddressVariable] = address, [PointVariable] = diesAt, [DemoVariable] = changes?.ToString(CultureInfo.InvariantCulture), [ImportVariable] = films },
        };
        if (Path.GetFileNameWithoutExtension(start.FileName) == "dotnet")
        {
            start.ArgumentList.Add(typeof(Victim).Assembly.Location);
        }

        return Process.Start(start)!;
    }

#pragma warning disable CA2255 // this is a program: what a victim does comes before what a test runner does
    [ModuleInitializer]
#pragma warning restore CA2255
    internal static void WorkIfThisIsOne()
    {
        if (Environment.GetEnvironmentVariable(FolderVariable) is { Length: > 0 } folder)
        {
            var address = Environment.GetEnvironmentVariable(AddressVariable) is { Length: > 0 } named ? named : null;
            var diesAt = Environment.GetEnvironmentVariable(PointVariable);
            if (Environment.GetEnvironmentVariable(ImportVariable) is { Length: > 0 } films)
            {
                Import(folder, address, films, diesAt);
            }
            else if (Environment.GetEnvironmentVariable(DemoVariable) is { Length: > 0 } changes)
            {
                DieAt(diesAt, int.Parse(changes, CultureInfo.InvariantCulture));
                Server.Run(new ServeOptions(Port: 0, folder, Demo: true, address));
            }
            else
            {
                Work(folder, address, diesAt);
            }

            Environment.Exit(0);
        }
    }

    private static void DieAt(string? point, int times)
    {
        var left = times;
        Failpoints.Reached = name =>
        {
            if (name == point && Interlocked.Decrement(ref left) == 0)
            {
                Process.GetCurrentProcess().Kill();
                Thread.Sleep(Timeout.Infinite);
            }
        };
    }

    /// <summary>How many films <see cref="PutFilms"/> puts.</summary>
    public const int Films = 6;

    /// <summary>Puts films into a folder, each another one.</summary>
    public static void PutFilms(string folder)
    {
        for (var film = 0; film < Films; film++)
        {
            var pixels = new ushort[80 * 80];
            for (var place = 0; place < pixels.Length; place++)
            {
                pixels[place] = (ushort)((place * 7) + (film * 1000));
            }

            File.WriteAllBytes(Path.Combine(folder, FormattableString.Invariant($"{film}.png")), Phantoms.Imaging.PngWriter.Write(80, 80, pixels, eightBits: false));
        }
    }

    private static void Import(string folder, string? address, string films, string? diesAt)
    {
        using var store = ClinicStore.Open(folder, TimeProvider.System, address).Value;
        var by = new Writer("victim", "victim");
        var opened = new CaseOpened(new Patient("1", "Pat Example"), ToothNumber.Parse("16").Value, new Referral(null, null, "pain", null, false, null));
        var id = store.Cases.List() is [var only] ? only.Id : store.Cases.Open(opened, new Author("victim", "victim")).Value.Id;
        var attach = new AttachNewFilm(store, new ReceiveFilm(store, new FilmShelf(store), new FilmsInUse(TimeProvider.System)), new WatchFolder(store, TimeProvider.System));
        var import = new ImportFilms(store, attach, new FilmsFolder(store)).Begin(films).Value;
        import.Finished().GetAwaiter().GetResult();
        if (diesAt is { Length: > 0 })
        {
            DieAt(diesAt, int.Parse(Environment.GetEnvironmentVariable(DemoVariable)!, CultureInfo.InvariantCulture));
        }

        var taken = new FilmTaken(FilmMoment.Before, TubeShift.Straight);
        if (import.Store(Enumerable.Range(0, import.FileCount).ToDictionary(place => place, _ => new ImportChoice(id, taken)), by).IsGiven)
        {
            import.Finished().GetAwaiter().GetResult();
        }

        Say(FormattableString.Invariant($"imported {import.Now.Rows.Count(row => row.Outcome?.Stored is not null)}"));
    }

    private static void Work(string folder, string? address, string? diesAt)
    {
        using var store = ClinicStore.Open(folder, TimeProvider.System, address).Value;
        var by = new Author("victim", "victim");
        var opened = new CaseOpened(new Patient("1", "Pat Example"), ToothNumber.Parse("16").Value, new Referral(null, null, "pain", null, false, null));
        var id = store.Cases.Open(opened, by).Value.Id;
        var version = 1L;
        Say($"case {id.Value}");
        for (var change = 1; change <= Changes; change++)
        {
            if (change == 4 && diesAt is { Length: > 0 })
            {
                DieAt(diesAt, times: 1);
            }

            // A paper and what speaks of it, a step with an instrument, a comparison that is kept: every way into the store.
            var paper = store.Cases.KeepFile(Bytes(change)).Value;
            var at = new DateTimeOffset(2026, 3, 4, 9, 30, 0, TimeSpan.Zero).AddSeconds(change);
            version = store.Cases.Append(id, version, by, [
                new PaperAttached(new AttachedFile(paper, FormattableString.Invariant($"{change}"), "application/pdf")),
                new ReferralChanged(opened.Referral with { Referrer = FormattableString.Invariant($"Dr {change}") })]).Value.Version;
            Say(FormattableString.Invariant($"edit {change}"));
            version = store.Cases.AppendEntry(id, new EntryKey(id.Value, change), by, new StepDone(change, at, "MB1", "file", null, "item 7", null, null)).Value.Version;
            Say(FormattableString.Invariant($"entry {change}"));
        }
    }

    /// <summary>The content of the paper that a change attaches.</summary>
    public static byte[] Bytes(int change) => [.. Enumerable.Repeat((byte)change, 5000)];

    private static void Say(string line)
    {
        Console.Out.WriteLine(line);
        Console.Out.Flush();
    }
}
