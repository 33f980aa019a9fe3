namespace Secondpass.Records.Events;

/// <summary>Something that happened, on its way into the store.</summary>
/// <remarks>Not yet a <see cref="StoredEvent"/>: version, time, place in the chain and sequence are given when it is appended.</remarks>
/// <param name="Kind">What happened, lower case with underscores, such as <c>comparison_kept</c>; never renamed.</param>
/// <param name="KindVersion">Version of the payload's shape, from 1.</param>
/// <param name="Payload">The payload as stored. The store never looks inside, so that it may be ciphertext.</param>
public sealed record NewEvent(string Kind, int KindVersion, ReadOnlyMemory<byte> Payload);
