using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Secondpass.Records.Events;

/// <summary>The chain that ties each event to the one stored before it, so that a change to the past shows.</summary>
/// <remarks>
/// Runs over the payload as stored. It shows an event changed, removed or put in between; it cannot show that the
/// newest events were cut off, for which a copy of the last hash must be kept elsewhere.
/// </remarks>
public static class EventChain
{
    /// <summary>Length of a hash: 32 bytes.</summary>
    public const int HashBytes = SHA256.HashSizeInBytes;

    /// <summary>What the first event names as its predecessor: zeros.</summary>
    public static ReadOnlyMemory<byte> Start { get; } = new byte[HashBytes];

    /// <summary>SHA-256 over all members of an event, each text and payload preceded by its length in bytes, numbers as 8 bytes big endian.</summary>
    public static byte[] HashOf(StoredEvent stored)
    {
        ArgumentNullException.ThrowIfNull(stored);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Add(hash, stored.Stream);
        Add(hash, stored.Version);
        Add(hash, stored.Kind);
        Add(hash, stored.KindVersion);
        Add(hash, stored.UtcTicks);
        Add(hash, stored.Who);
        Add(hash, stored.Device);
        Add(hash, stored.Sequence);
        Add(hash, stored.Payload.Span);
        Add(hash, stored.PreviousHash.Span);
        return hash.GetHashAndReset();
    }

    private static void Add(IncrementalHash hash, string text) => Add(hash, Encoding.UTF8.GetBytes(text));

    private static void Add(IncrementalHash hash, ReadOnlySpan<byte> bytes)
    {
        Add(hash, bytes.Length);
        hash.AppendData(bytes);
    }

    private static void Add(IncrementalHash hash, long number)
    {
        Span<byte> bytes = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64BigEndian(bytes, number);
        hash.AppendData(bytes);
    }
}
