namespace Secondpass.Records.Events;

/// <summary>Something that happened, as it stands in the store. Appended, never changed; a correction is a new event.</summary>
/// <param name="Stream">What it happened to, such as <c>comparison/0f…</c>.</param>
/// <param name="Version">Its number in the stream, from 1 without gaps.</param>
/// <param name="Kind">What happened.</param>
/// <param name="KindVersion">Version of the payload's shape.</param>
/// <param name="UtcTicks">When, in ticks of 100 ns since year 1, UTC.</param>
/// <param name="Who">Who did it.</param>
/// <param name="Device">The device that it was entered on.</param>
/// <param name="Sequence">Its number among that device's events, from 1.</param>
/// <param name="Payload">The payload as stored.</param>
/// <param name="PreviousHash">SHA-256 of the event stored before it, 32 bytes; zeros for the first.</param>
public sealed record StoredEvent(
    string Stream,
    long Version,
    string Kind,
    int KindVersion,
    long UtcTicks,
    string Who,
    string Device,
    long Sequence,
    ReadOnlyMemory<byte> Payload,
    ReadOnlyMemory<byte> PreviousHash);
