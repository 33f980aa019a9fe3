using System.Diagnostics;
using System.Runtime.CompilerServices;
using Secondpass.App;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
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

    /// <summary>How many changes it makes before it ends by itself.</summary>
    public const int Changes = 400;

    /// <summary>Starts one.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="address">The store, or null for SQLite.</param>
    /// <param name="diesAt">The failpoint that it kills itself at, once three changes are made; null to be killed from outside.</param>
    public static Process Start(string folder, string? address, string? diesAt) => Start(folder, address, diesAt, changes: null);

    /// <summary>Starts one that serves the workbench with the invented clinic.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="address">The store, or null for SQLite.</param>
    /// <param name="changes">It kills itself when it has completed this many.</param>
    public static Process StartDemo(string folder, string? address, int changes) => Start(folder, address, Failpoints.AfterCommit, changes);

    private static Process Start(string folder, string? address, string? diesAt, int? changes)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!)
        {
            RedirectStandardOutput = true,
            Environment = { [FolderVariable] = folder, [AddressVariable] = address, [PointVariable] = diesAt, [DemoVariable] = changes?.ToString(CultureInfo.InvariantCulture) },
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
            if (Environment.GetEnvironmentVariable(DemoVariable) is { Length: > 0 } changes)
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
