using System.Data.Common;
using System.Globalization;
using Secondpass.Records.Events;
using Secondpass.Records.Sqlite;

namespace Secondpass.Records.Projections;

/// <summary>The table of kept comparisons.</summary>
internal sealed class KeptComparisonTable : IProjection
{
    private const string StreamPrefix = "comparison/";
    private const string Columns = "id, label, kept_utc_ticks, before_sha256, after_sha256, case_document, comparison_document, sheet_sha256";

    /// <summary>The stream of one comparison.</summary>
    public static string StreamOf(string id) => StreamPrefix + id;

    /// <inheritdoc/>
    public void Apply(DbTransaction transaction, StoredEvent stored)
    {
        if (!stored.Stream.StartsWith(StreamPrefix, StringComparison.Ordinal))
        {
            return;
        }

        var id = stored.Stream[StreamPrefix.Length..];
        if (ComparisonKept.From(stored) is { } kept)
        {
            transaction.Execute(
                $"INSERT INTO kept_comparisons ({Columns}) VALUES (@id, @label, @ticks, @before, @after, @case, @comparison, @sheet)",
                ("@id", id),
                ("@label", kept.Label),
                ("@ticks", stored.UtcTicks),
                ("@before", kept.BeforeSha256),
                ("@after", kept.AfterSha256),
                ("@case", kept.CaseDocument),
                ("@comparison", kept.ComparisonDocument),
                ("@sheet", kept.SheetSha256));
        }
        else if (stored.Kind == ComparisonRemoved.Kind)
        {
            transaction.Execute("DELETE FROM kept_comparisons WHERE id = @id", ("@id", id));
        }
    }

    /// <inheritdoc/>
    public void Clear(DbTransaction transaction) => transaction.Execute("DELETE FROM kept_comparisons");

    /// <summary>All, newest first.</summary>
    public static IReadOnlyList<KeptComparison> All(DbConnection connection)
    {
        using var command = connection.Command($"SELECT {Columns} FROM kept_comparisons ORDER BY kept_utc_ticks DESC, id");
        return [.. Rows(command)];
    }

    /// <summary>One, or null.</summary>
    public static KeptComparison? Find(DbConnection connection, string id)
    {
        using var command = connection.Command($"SELECT {Columns} FROM kept_comparisons WHERE id = @id", ("@id", id));
        return Rows(command).FirstOrDefault();
    }

    /// <summary>Whether a kept comparison needs a file.</summary>
    public static bool Needs(DbConnection connection, string sha256)
    {
        using var command = connection.Command(
            "SELECT count(*) FROM kept_comparisons WHERE before_sha256 = @sha OR after_sha256 = @sha OR sheet_sha256 = @sha",
            ("@sha", sha256));
        return Convert.ToInt64(command.ExecuteScalar(), CultureInfo.InvariantCulture) > 0;
    }

    private static IEnumerable<KeptComparison> Rows(DbCommand command)
    {
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            yield return new KeptComparison(
                reader.GetString(0),
                reader.GetString(1),
                new DateTimeOffset(reader.GetInt64(2), TimeSpan.Zero),
                reader.GetString(3),
                reader.GetString(4),
                reader.GetString(5),
                reader.GetString(6),
                reader.GetString(7));
        }
    }
}
