using System.Globalization;
using Secondpass.Domain;
using Secondpass.Job.Documents;
using Secondpass.Records;
using Secondpass.Records.Events;

namespace Secondpass.Job.Keeping;

/// <summary>Checks that everything kept still is what was stored: the chain of events, and every file against its hash.</summary>
public static class VerifyStore
{
    /// <summary>Checks a store and changes nothing in it; the workbench may run meanwhile.</summary>
    /// <param name="place">Where it is.</param>
    /// <param name="time">The clock.</param>
    /// <returns>What was found, good or bad; or a refusal: nothing there, written by an older or a newer version, not reached, clinic key missing or wrong, damaged as a whole.</returns>
    public static Answer<VerifyDocument> Verify(StorePlace place, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(place);
        var found = Look(place, time);

        // A workbench that starts or ends during the check can make a sound store look damaged once.
        return found.TryGet(out var document, out _) && !document.Ok ? Look(place, time) : found;
    }

    /// <summary>The result in sentences.</summary>
    public static string Text(VerifyDocument found)
    {
        ArgumentNullException.ThrowIfNull(found);
        var lines = new List<string>();
        if (found.FirstBroken is { } broken)
        {
            lines.Add(broken.Reason);
        }
        else
        {
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"Events: {found.Events} in {found.Streams} streams, each as it was stored and in its order, none missing at the end."));
        }

        lines.AddRange(found.DamagedFiles.Select(file => $"The file {file} is not what was stored: its content changed."));
        lines.AddRange(found.MissingFiles.Select(file => $"The file {file} is missing."));
        if (found.DamagedFiles.Count + found.MissingFiles.Count == 0)
        {
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"Files: {found.Files}, each as it was stored, none missing."));
        }

        if (!found.Ok)
        {
            lines.Add("Put a copy of the data back from your backup, and keep the damaged one for whoever examines it.");
        }

        return string.Join('\n', lines) + "\n";
    }

    private static Answer<VerifyDocument> Look(StorePlace place, TimeProvider time)
    {
        if (!ClinicStore.OpenToRead(place.Folder, time, place.Address).TryGet(out var store, out var refusal))
        {
            return refusal;
        }

        using (store)
        {
            if (!store.Check().TryGet(out var chain, out refusal))
            {
                return refusal;
            }

            var files = store.CheckFiles();
            return new VerifyDocument(
                1,
                chain.FirstBroken is null && files.Damaged.Count == 0 && files.Missing.Count == 0,
                chain.Events,
                chain.Streams,
                chain.FirstBroken is { } broken ? From(broken) : null,
                files.Count,
                files.Damaged,
                files.Missing);
        }
    }

    private static BrokenEventDocument From(BrokenEvent broken) => new(
        broken.Number,
        broken.Stream,
        broken.Version,
        broken.Kind,
        broken.Who,
        broken.At?.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
        EnumWords.Of(broken.Fault),
        Sentence(broken));

    private static string Sentence(BrokenEvent broken)
    {
        var when = broken.At is { } at ? at.ToString("'stored on 'yyyy-MM-dd' at 'HH:mm:ss' UTC'", CultureInfo.InvariantCulture) : "stored at a time that can't be read";
        var what = string.Create(CultureInfo.InvariantCulture, $"Event {broken.Number} ({broken.Kind}, number {broken.Version} of “{broken.Stream}”, {when} by {broken.Who})");
        return broken.Fault switch
        {
            ChainFault.Changed => $"{what} is not what was stored: it was changed or damaged.",
            ChainFault.OutOfPlace => $"{what} doesn't follow the one before it: something before it was removed or put in.",
            ChainFault.CutOff when broken.Number == 0 => "All events are gone.",
            _ => $"{what} is the last one, and more were stored after it: they are gone.",
        };
    }
}
