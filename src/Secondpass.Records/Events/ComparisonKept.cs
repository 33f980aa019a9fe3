using System.Text.Json;
using System.Text.Json.Serialization;

namespace Secondpass.Records.Events;

/// <summary>A comparison of two films was kept under a label.</summary>
/// <param name="Label">The dentist's label.</param>
/// <param name="BeforeSha256">SHA-256 of the film before.</param>
/// <param name="AfterSha256">SHA-256 of the film after.</param>
/// <param name="CaseDocument">What was entered, as JSON.</param>
/// <param name="ComparisonDocument">What came out, as JSON.</param>
/// <param name="SheetSha256">SHA-256 of the record sheet as it was made then.</param>
internal sealed record ComparisonKept(
    string Label,
    string BeforeSha256,
    string AfterSha256,
    string CaseDocument,
    string ComparisonDocument,
    string SheetSha256)
{
    public const string Kind = "comparison_kept";
    public const int KindVersion = 1;

    public NewEvent ToNewEvent() => new(Kind, KindVersion, JsonSerializer.SerializeToUtf8Bytes(this, EventPayloads.Default.ComparisonKept));

    /// <summary>The event's content, or null when it is another kind.</summary>
    /// <exception cref="NotSupportedException">A version of this kind that isn't known; a newer store is refused before it comes to this.</exception>
    public static ComparisonKept? From(StoredEvent stored) => stored.Kind != Kind
        ? null
        : stored.KindVersion == KindVersion
            ? JsonSerializer.Deserialize(stored.Payload.Span, EventPayloads.Default.ComparisonKept)
            : throw new NotSupportedException(FormattableString.Invariant($"{Kind} of version {stored.KindVersion} is not known."));
}

/// <summary>A kept comparison was taken off the list, and its films with it where nothing else needs them.</summary>
internal static class ComparisonRemoved
{
    public const string Kind = "comparison_removed";

    public static NewEvent ToNewEvent() => new(Kind, 1, "{}"u8.ToArray());
}

/// <summary>The notice of the first start was read and accepted.</summary>
internal static class NoticeAccepted
{
    public const string Kind = "notice_accepted";

    public static NewEvent ToNewEvent() => new(Kind, 1, "{}"u8.ToArray());
}

/// <summary>How payloads are written: fixed names, so that a renamed member can't change what is stored.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower)]
[JsonSerializable(typeof(ComparisonKept))]
internal sealed partial class EventPayloads : JsonSerializerContext;
