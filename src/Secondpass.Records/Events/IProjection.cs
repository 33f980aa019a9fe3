using System.Data.Common;
using Secondpass.Records.Keys;

namespace Secondpass.Records.Events;

/// <summary>A table for reading that follows the events: written in their transaction, rebuilt from them at any time.</summary>
internal interface IProjection
{
    /// <summary>Takes one event into the table; leaves alone what doesn't concern it.</summary>
    void Apply(Happening happening);

    /// <summary>Empties the table, before all events are applied again.</summary>
    void Clear(DbTransaction transaction);
}

/// <summary>An event as projections see it.</summary>
/// <param name="Transaction">The transaction that it is written in.</param>
/// <param name="Stored">The event as stored.</param>
/// <param name="Event">What it says; null when it can't be read any more because its patient was forgotten.</param>
/// <param name="Key">The patient's key; null outside cases, or when the patient was forgotten.</param>
internal readonly record struct Happening(DbTransaction Transaction, StoredEvent Stored, object? Event, PatientKey? Key);
