using System.Data.Common;
using System.Text.Json;
using System.Text.Json.Nodes;
using Secondpass.Domain.Cases;
using Secondpass.Records.Databases;
using Secondpass.Records.Events;
using Secondpass.Records.Films;

namespace Secondpass.Records.Projections;

/// <summary>Which files the cases speak of: every SHA-256 that stands in one of their events.</summary>
internal sealed class CaseFileTable : IProjection
{
    /// <inheritdoc/>
    public void Apply(Happening happening)
    {
        var (transaction, stored, happened, _) = happening;
        if (happened is PatientForgotten forgotten)
        {
            foreach (var id in forgotten.Cases)
            {
                transaction.Execute("DELETE FROM case_files WHERE case_id = @case", ("@case", id));
            }
        }
        else if (happened is CaseEvent && CaseTable.IdOf(stored) is { } id)
        {
            foreach (var sha256 in HashesIn(JsonSerializer.SerializeToNode(happened, happened.GetType(), EventJson.Options)))
            {
                transaction.Execute(
                    "INSERT INTO case_files (case_id, sha256) VALUES (@case, @sha) ON CONFLICT DO NOTHING",
                    ("@case", id),
                    ("@sha", sha256));
            }
        }
    }

    /// <inheritdoc/>
    public void Clear(DbTransaction transaction) => transaction.Execute("DELETE FROM case_files");

    /// <summary>Whether a case speaks of a file.</summary>
    public static bool Needs(DbTransaction transaction, string sha256) =>
        transaction.Number("SELECT count(*) FROM case_files WHERE sha256 = @sha", ("@sha", sha256)) > 0;

    /// <summary>All files that cases speak of.</summary>
    public static IReadOnlyList<string> AllFiles(DbTransaction transaction) =>
        transaction.Rows("SELECT DISTINCT sha256 FROM case_files", row => row.GetString(0));

    /// <summary>The files that a case speaks of.</summary>
    public static IReadOnlyList<string> Of(DbTransaction transaction, string caseId) =>
        transaction.Rows("SELECT sha256 FROM case_files WHERE case_id = @case ORDER BY sha256", row => row.GetString(0), ("@case", caseId));

    /// <summary>The cases that speak of a file.</summary>
    public static IReadOnlyList<string> CasesWith(DbTransaction transaction, string sha256) =>
        transaction.Rows("SELECT case_id FROM case_files WHERE sha256 = @sha ORDER BY case_id", row => row.GetString(0), ("@sha", sha256));

    private static IEnumerable<string> HashesIn(JsonNode? node) => node switch
    {
        JsonObject parts => parts.SelectMany(part => HashesIn(part.Value)),
        JsonArray items => items.SelectMany(HashesIn),
        JsonValue value when value.TryGetValue<string>(out var text) && FileArchive.IsHash(text) => [text],
        _ => [],
    };
}
