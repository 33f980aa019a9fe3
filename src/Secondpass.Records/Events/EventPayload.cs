using System.Text.Json;
using System.Text.Json.Nodes;
using Secondpass.Records.Upcasting;

namespace Secondpass.Records.Events;

/// <summary>Turns events into what is stored and back.</summary>
internal static class EventPayload
{
    /// <summary>An event on its way into the store, its payload as UTF-8 JSON.</summary>
    public static NewEvent Write(object happened)
    {
        var kind = EventKinds.Of(happened.GetType());
        return new NewEvent(kind.Name, kind.Version, JsonSerializer.SerializeToUtf8Bytes(happened, kind.Type, EventJson.Options));
    }

    /// <summary>An event read back.</summary>
    /// <param name="name">Its kind.</param>
    /// <param name="version">The version that it was stored in.</param>
    /// <param name="payload">Its payload as UTF-8 JSON.</param>
    /// <exception cref="NotSupportedException">A kind or version that isn't known; a newer store is refused before it comes to this.</exception>
    /// <exception cref="JsonException">The payload doesn't have the shape of its version: a defect.</exception>
    public static object Read(string name, int version, ReadOnlySpan<byte> payload)
    {
        var kind = EventKinds.Find(name);
        if (kind is null || version > kind.Version || version < 1)
        {
            throw new NotSupportedException(FormattableString.Invariant($"{name} of version {version} is not known."));
        }

        return version == kind.Version
            ? JsonSerializer.Deserialize(payload, kind.Type, EventJson.Options)!
            : Upcasters.Raise(name, version, kind.Version, JsonNode.Parse(payload)!.AsObject()).Deserialize(kind.Type, EventJson.Options)!;
    }
}
