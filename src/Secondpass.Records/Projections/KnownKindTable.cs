using System.Data.Common;
using Secondpass.Records.Databases;
using Secondpass.Records.Events;

namespace Secondpass.Records.Projections;

/// <summary>Which kinds and versions of events there are: an older program sees at once that it can't read them all.</summary>
internal sealed class KnownKindTable : IProjection
{
    /// <inheritdoc/>
    public void Apply(Happening happening) => happening.Transaction.Execute(
        "INSERT INTO event_kinds (kind, kind_version) VALUES (@kind, @version) ON CONFLICT DO NOTHING",
        ("@kind", happening.Stored.Kind),
        ("@version", (long)happening.Stored.KindVersion));

    /// <inheritdoc/>
    public void Clear(DbTransaction transaction) => transaction.Execute("DELETE FROM event_kinds");
}
