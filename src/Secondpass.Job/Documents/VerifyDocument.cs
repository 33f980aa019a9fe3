using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Records.Events;

namespace Secondpass.Job.Documents;

/// <summary>The answer of <c>verify</c>.</summary>
/// <param name="Schema">Always 1.</param>
/// <param name="Ok">Whether everything is as it was stored.</param>
/// <param name="Events">Events checked.</param>
/// <param name="Streams">Of how many streams.</param>
/// <param name="FirstBroken">The first that is not as it was stored.</param>
/// <param name="Files">Files checked.</param>
/// <param name="DamagedFiles">Files whose content changed.</param>
/// <param name="MissingFiles">Files that are missing.</param>
[Description("What verify answers: whether everything kept still is what was stored.")]
public sealed record VerifyDocument(
    [property: Description("Always 1."), AllowedValues(1)] int Schema,
    [property: Description("Whether everything is as it was stored.")] bool Ok,
    [property: Description("How many events were checked; the check ends at the first that is not as it was stored.")] long Events,
    [property: Description("Of how many streams (cases, kept comparisons, the clinic and others) they are.")] long Streams,
    [property: Description("The first event that is not as it was stored; null when all are.")] BrokenEventDocument? FirstBroken,
    [property: Description("How many files were checked against the SHA-256 that they are named by.")] long Files,
    [property: Description("Files whose content changed, as folder/SHA-256.")] IReadOnlyList<string> DamagedFiles,
    [property: Description("SHA-256 of files that something kept needs and that are missing.")] IReadOnlyList<string> MissingFiles);

/// <summary>An event that is not as it was stored.</summary>
/// <param name="Event">Its place among all.</param>
/// <param name="Stream">Its stream.</param>
/// <param name="Version">Its number there.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Who">Who did it.</param>
/// <param name="StoredUtc">When it was stored.</param>
/// <param name="Fault">What is wrong.</param>
/// <param name="Reason">The same in a sentence.</param>
[Description("An event that is not as it was stored. Its members are as they read now.")]
public sealed record BrokenEventDocument(
    [property: Description("Its place among all events, from 1; 0 when all are gone.")] long Event,
    [property: Description("What it happened to.")] string Stream,
    [property: Description("Its number in that stream, from 1.")] long Version,
    [property: Description("What happened.")] string Kind,
    [property: Description("Who noted it.")] string Who,
    [property: Description("When it was stored, UTC; null when that can't be read.")] string? StoredUtc,
    [property: Description("What is wrong with it."), Words(typeof(ChainFault))] string Fault,
    [property: Description("What is wrong, in a sentence.")] string Reason);
