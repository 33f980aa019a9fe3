using System.Data.Common;

namespace Secondpass.Records.Events;

/// <summary>Reads rows of the table of events.</summary>
internal static class EventRows
{
    /// <summary>The columns, in the order in which <see cref="Of"/> reads them.</summary>
    public const string Columns = "stream, version, kind, kind_version, utc_ticks, who, device, sequence, payload, previous_hash";

    /// <summary>What a query for <see cref="Columns"/> finds.</summary>
    public static IEnumerable<StoredEvent> Of(DbCommand command)
    {
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            yield return new StoredEvent(
                reader.GetString(0),
                reader.GetInt64(1),
                reader.GetString(2),
                (int)reader.GetInt64(3),
                reader.GetInt64(4),
                reader.GetString(5),
                reader.GetString(6),
                reader.GetInt64(7),
                (byte[])reader.GetValue(8),
                (byte[])reader.GetValue(9));
        }
    }
}
