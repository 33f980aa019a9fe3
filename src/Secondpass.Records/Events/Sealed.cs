using Secondpass.Records.Keys;

namespace Secondpass.Records.Events;

/// <summary>How the payload of a case's event is stored: a byte 1, the key's identity (16 bytes), then what <see cref="Sealing"/> makes.</summary>
internal static class Sealed
{
    private const byte Form = 1;
    private const int HeadBytes = 17;

    /// <summary>Whether the events of a stream are sealed.</summary>
    public static bool IsIn(string stream) => stream.StartsWith("case/", StringComparison.Ordinal);

    /// <summary>The identity of the key that an event is sealed with, or null when it isn't.</summary>
    public static string? KeyIdOf(StoredEvent stored) =>
        IsIn(stored.Stream) && stored.Payload.Length > HeadBytes && stored.Payload.Span[0] == Form
            ? Convert.ToHexStringLower(stored.Payload.Span[1..HeadBytes])
            : null;

    /// <summary>Seals a payload for the place that it is stored at.</summary>
    public static byte[] Seal(PatientKey key, string stream, long version, NewEvent added) =>
        [Form, .. Convert.FromHexString(key.Id), .. key.Seal(Place(stream, version, added.Kind, added.KindVersion), added.Payload.Span)];

    /// <summary>Opens a payload; null when it or its place was changed.</summary>
    public static byte[]? Open(PatientKey key, StoredEvent stored) =>
        key.Open(Place(stored.Stream, stored.Version, stored.Kind, stored.KindVersion), stored.Payload.Span[HeadBytes..]);

    private static string Place(string stream, long version, string kind, int kindVersion) =>
        FormattableString.Invariant($"{stream}\n{version}\n{kind}\n{kindVersion}");
}
