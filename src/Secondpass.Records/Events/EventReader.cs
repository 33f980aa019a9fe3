using System.Data.Common;
using System.Security.Cryptography;
using Secondpass.Domain;
using Secondpass.Records.Databases;
using Secondpass.Records.Keys;

namespace Secondpass.Records.Events;

/// <summary>Reads events inside one transaction, and what they say.</summary>
/// <param name="transaction">The transaction.</param>
/// <param name="keys">The patients' keys.</param>
internal class EventReader(DbTransaction transaction, PatientKeys keys)
{
    private readonly Dictionary<string, PatientKey?> found = new(StringComparer.Ordinal);

    /// <summary>The transaction.</summary>
    public DbTransaction Transaction => transaction;

    /// <summary>The patients' keys.</summary>
    public PatientKeys Keys => keys;

    /// <summary>The events of one stream, oldest first.</summary>
    public IReadOnlyList<StoredEvent> Read(string stream) =>
        transaction.Rows($"SELECT {EventRows.Columns} FROM events WHERE stream = @stream ORDER BY version", EventRows.Of, ("@stream", stream));

    /// <summary>The event that a device gave this number, or null.</summary>
    public StoredEvent? Find(string device, long sequence) => transaction
        .Rows(
            $"SELECT {EventRows.Columns} FROM events WHERE device = @device AND sequence = @sequence",
            EventRows.Of,
            ("@device", device),
            ("@sequence", sequence))
        .SingleOrDefault();

    /// <summary>The version of a stream; 0 when there is none.</summary>
    public long VersionOf(string stream) =>
        transaction.Number("SELECT coalesce(max(version), 0) FROM events WHERE stream = @stream", ("@stream", stream));

    /// <summary>The key that an event is sealed with; null when the patient was forgotten.</summary>
    /// <exception cref="CryptographicException">The key's row was changed or damaged.</exception>
    public PatientKey? KeyOf(StoredEvent stored) => Sealed.KeyIdOf(stored) is { } id ? Key(id) : null;

    /// <summary>A patient's key; null when the patient was forgotten.</summary>
    /// <exception cref="CryptographicException">The key's row was changed or damaged.</exception>
    public PatientKey? Key(string id)
    {
        if (!found.TryGetValue(id, out var key))
        {
            key = keys.Find(transaction, id);
            found[id] = key;
        }

        return key;
    }

    /// <summary>What an event says.</summary>
    /// <returns>The event; or a refusal: <c>patient_forgotten</c>, <c>event_damaged</c>.</returns>
    public Answer<object> Decode(StoredEvent stored)
    {
        var payload = stored.Payload;
        if (Sealed.IsIn(stored.Stream))
        {
            try
            {
                if (Sealed.KeyIdOf(stored) is not { } id)
                {
                    return StoreRefusals.EventDamaged(stored);
                }

                if (Key(id) is not { } key)
                {
                    return StoreRefusals.PatientForgotten();
                }

                if (Sealed.Open(key, stored) is not { } plain)
                {
                    return StoreRefusals.EventDamaged(stored);
                }

                payload = plain;
            }
            catch (CryptographicException)
            {
                return StoreRefusals.EventDamaged(stored);
            }
        }

        return EventPayload.Read(stored.Kind, stored.KindVersion, payload.Span);
    }

    /// <summary>What several events of one type say, oldest first.</summary>
    /// <typeparam name="T">Their type.</typeparam>
    public Answer<IReadOnlyList<T>> Decode<T>(IReadOnlyList<StoredEvent> stored)
        where T : class
    {
        var happened = new List<T>(stored.Count);
        foreach (var one in stored)
        {
            if (!Decode(one).TryGet(out var read, out var refusal))
            {
                return refusal;
            }

            happened.Add((T)read);
        }

        return happened;
    }
}
