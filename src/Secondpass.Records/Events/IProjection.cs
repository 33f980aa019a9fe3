using System.Data.Common;

namespace Secondpass.Records.Events;

/// <summary>A table for reading that follows the events: written in their transaction, rebuilt from them at any time.</summary>
internal interface IProjection
{
    /// <summary>Takes one event into the table; leaves alone what it doesn't know.</summary>
    void Apply(DbTransaction transaction, StoredEvent stored);

    /// <summary>Empties the table, before all events are applied again.</summary>
    void Clear(DbTransaction transaction);
}
