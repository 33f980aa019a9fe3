using System.Data.Common;
using System.Security.Cryptography;
using System.Text.Json;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Records.Databases;
using Secondpass.Records.Events;
using Secondpass.Records.Keys;

namespace Secondpass.Records.Projections;

/// <summary>The list of cases. What it says of a patient is sealed under the patient's key, as the events are.</summary>
internal sealed class CaseTable : IProjection
{
    /// <summary>What the stream of a case begins with.</summary>
    public const string StreamPrefix = "case/";

    /// <inheritdoc/>
    public void Apply(Happening happening)
    {
        var (transaction, stored, happened, key) = happening;
        if (happened is PatientForgotten forgotten)
        {
            foreach (var id in forgotten.Cases)
            {
                transaction.Execute("DELETE FROM case_lines WHERE id = @id", ("@id", id));
            }
        }
        else if (happened is CaseEvent && key is not null && IdOf(stored) is { } id)
        {
            if (happened is CaseOpened opened)
            {
                transaction.Execute(
                    "INSERT INTO case_lines (id, patient_key, version, entries, opened_utc_ticks, changed_utc_ticks, summary) VALUES (@id, @key, 0, 0, @ticks, @ticks, @summary)",
                    ("@id", id),
                    ("@key", key.Id),
                    ("@ticks", stored.UtcTicks),
                    ("@summary", Seal(key, id, new CaseSummary(opened.Patient.Number, opened.Patient.Name, opened.Tooth, opened.Referral.Referrer))));
            }

            transaction.Execute(
                "UPDATE case_lines SET version = @version, entries = entries + @entries, changed_utc_ticks = @ticks WHERE id = @id",
                ("@version", stored.Version),
                ("@entries", happened is ChairsideEntry ? 1L : 0L),
                ("@ticks", stored.UtcTicks),
                ("@id", id));
            if (Correction(happened) is { } correct)
            {
                var summary = Open(key, id, transaction.Rows("SELECT summary FROM case_lines WHERE id = @id", row => (byte[])row.GetValue(0), ("@id", id)).Single());
                transaction.Execute(
                    "UPDATE case_lines SET summary = @summary WHERE id = @id",
                    ("@summary", Seal(key, id, correct(summary ?? Unreadable))),
                    ("@id", id));
            }
        }
    }

    /// <inheritdoc/>
    public void Clear(DbTransaction transaction) => transaction.Execute("DELETE FROM case_lines");

    /// <summary>All cases, the one changed last first.</summary>
    public static IReadOnlyList<CaseLine> All(EventReader reader) => reader.Transaction.Rows(
        """
        SELECT line.id, line.patient_key, line.version, line.opened_utc_ticks, line.changed_utc_ticks, line.summary, key.wrapped
        FROM case_lines AS line JOIN patient_keys AS key ON key.id = line.patient_key
        ORDER BY line.changed_utc_ticks DESC, line.id
        """,
        row =>
        {
            var id = row.GetString(0);
            var summary = Summary(reader.Keys, row.GetString(1), (byte[])row.GetValue(6), id, (byte[])row.GetValue(5)) ?? Unreadable;
            return new CaseLine(
                new CaseId(id), summary.PatientNumber, summary.PatientName, summary.Tooth, summary.Referrer, At(row.GetInt64(3)), At(row.GetInt64(4)), row.GetInt64(2));
        });

    /// <summary>The cases of one patient.</summary>
    public static IReadOnlyList<string> OfPatient(DbTransaction transaction, string keyId) =>
        transaction.Rows("SELECT id FROM case_lines WHERE patient_key = @key ORDER BY id", row => row.GetString(0), ("@key", keyId));

    /// <summary>The case that an event happened to, or null.</summary>
    public static string? IdOf(StoredEvent stored) =>
        stored.Stream.StartsWith(StreamPrefix, StringComparison.Ordinal) ? stored.Stream[StreamPrefix.Length..] : null;

    // A case whose line is damaged stays in the list: opening it says what is wrong.
    private static CaseSummary Unreadable { get; } = new("(can't be read)", null, default, null);

    private static Func<CaseSummary, CaseSummary>? Correction(object happened) => happened switch
    {
        ReferralChanged changed => summary => summary with { Referrer = changed.Referral.Referrer },
        PatientCorrected corrected => summary => summary with { PatientNumber = corrected.Patient.Number, PatientName = corrected.Patient.Name },
        ToothCorrected corrected => summary => summary with { Tooth = corrected.Tooth },
        _ => null,
    };

    private static CaseSummary? Summary(PatientKeys keys, string keyId, byte[] wrapped, string id, byte[] summary)
    {
        try
        {
            return Open(keys.Unwrap(keyId, wrapped), id, summary);
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    private static DateTimeOffset At(long utcTicks) => new(utcTicks, TimeSpan.Zero);

    private static string PlaceOf(string id) => "case_lines\n" + id;

    private static byte[] Seal(PatientKey key, string id, CaseSummary summary) => key.Seal(PlaceOf(id), JsonSerializer.SerializeToUtf8Bytes(summary, EventJson.Options));

    private static CaseSummary? Open(PatientKey key, string id, byte[] summary) =>
        key.Open(PlaceOf(id), summary) is { } plain ? JsonSerializer.Deserialize<CaseSummary>(plain, EventJson.Options) : null;

    private sealed record CaseSummary(string PatientNumber, string? PatientName, ToothNumber Tooth, string? Referrer);
}
