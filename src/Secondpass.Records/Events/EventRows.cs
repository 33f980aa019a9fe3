using System.Data.Common;

namespace Secondpass.Records.Events;

/// <summary>Reads rows of the table of events.</summary>
internal static class EventRows
{
    /// <summary>The columns, in the order in which <see cref="Of"/> reads them.</summary>
    public const string Columns = "stream, version, kind, kind_version, utc_ticks, who, device, sequence, payload, previous_hash";

    /// <summary>The row that a query for <see cref="Columns"/> stands at.</summary>
    public static StoredEvent Of(DbDataReader row) => new(
        row.GetString(0),
        row.GetInt64(1),
        row.GetString(2),
        (int)row.GetInt64(3),
        row.GetInt64(4),
        row.GetString(5),
        row.GetString(6),
        row.GetInt64(7),
        (byte[])row.GetValue(8),
        (byte[])row.GetValue(9));
}
