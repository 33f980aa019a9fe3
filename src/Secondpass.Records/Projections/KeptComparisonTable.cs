using System.Data.Common;
using Secondpass.Records.Databases;
using Secondpass.Records.Events;

namespace Secondpass.Records.Projections;

/// <summary>The table of kept comparisons.</summary>
internal sealed class KeptComparisonTable : IProjection
{
    private const string StreamPrefix = "comparison/";
    private const string Columns = "id, label, kept_utc_ticks, before_sha256, after_sha256, case_document, comparison_document, sheet_sha256";

    /// <summary>The stream of one comparison.</summary>
    public static string StreamOf(string id) => StreamPrefix + id;

    /// <inheritdoc/>
    public void Apply(Happening happening)
    {
        var (transaction, stored, happened, _) = happening;
        if (!stored.Stream.StartsWith(StreamPrefix, StringComparison.Ordinal))
        {
            return;
        }

        var id = stored.Stream[StreamPrefix.Length..];
        if (happened is ComparisonKept kept)
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
        else if (happened is ComparisonRemoved)
        {
            transaction.Execute("DELETE FROM kept_comparisons WHERE id = @id", ("@id", id));
        }
    }

    /// <inheritdoc/>
    public void Clear(DbTransaction transaction) => transaction.Execute("DELETE FROM kept_comparisons");

    /// <summary>All, newest first.</summary>
    public static IReadOnlyList<KeptComparison> All(DbTransaction transaction) =>
        transaction.Rows($"SELECT {Columns} FROM kept_comparisons ORDER BY kept_utc_ticks DESC, id", Of);

    /// <summary>One, or null.</summary>
    public static KeptComparison? Find(DbTransaction transaction, string id) =>
        transaction.Rows($"SELECT {Columns} FROM kept_comparisons WHERE id = @id", Of, ("@id", id)).SingleOrDefault();

    /// <summary>All files that kept comparisons need.</summary>
    public static IEnumerable<string> AllFiles(DbTransaction transaction) =>
        All(transaction).SelectMany(kept => (string[])[kept.BeforeSha256, kept.AfterSha256, kept.SheetSha256]);

    /// <summary>Whether a kept comparison needs a file.</summary>
    public static bool Needs(DbTransaction transaction, string sha256) => transaction.Number(
        "SELECT count(*) FROM kept_comparisons WHERE before_sha256 = @sha OR after_sha256 = @sha OR sheet_sha256 = @sha",
        ("@sha", sha256)) > 0;

    private static KeptComparison Of(DbDataReader row) => new(
        row.GetString(0),
        row.GetString(1),
        new DateTimeOffset(row.GetInt64(2), TimeSpan.Zero),
        row.GetString(3),
        row.GetString(4),
        row.GetString(5),
        row.GetString(6),
        row.GetString(7));
}
