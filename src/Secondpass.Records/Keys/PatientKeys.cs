using System.Data.Common;
using System.Security.Cryptography;
using Secondpass.Records.Databases;

namespace Secondpass.Records.Keys;

/// <summary>The table of patients' keys, each wrapped by the clinic key.</summary>
/// <remarks>Not a projection: it can't be rebuilt from events, and a key that is destroyed is gone.</remarks>
internal sealed class PatientKeys(ClinicKey clinic)
{
    /// <summary>The key of a patient, made when there is none.</summary>
    /// <param name="transaction">A transaction with the right to write.</param>
    /// <param name="patientNumber">The clinic's own patient number.</param>
    public PatientKey ForPatient(DbTransaction transaction, string patientNumber)
    {
        if (IdOf(transaction, patientNumber) is { } known)
        {
            return Find(transaction, known)!;
        }

        var id = Identity.New();
        var key = RandomNumberGenerator.GetBytes(Sealing.KeyBytes);
        transaction.Execute(
            "INSERT INTO patient_keys (id, patient, wrapped) VALUES (@id, @patient, @wrapped)",
            ("@id", id),
            ("@patient", clinic.NameOf(patientNumber)),
            ("@wrapped", clinic.Wrap(id, key)));
        return new PatientKey(id, key);
    }

    /// <summary>The identity of a patient's key, or null when there is none.</summary>
    public string? IdOf(DbTransaction transaction, string patientNumber) => transaction
        .Rows("SELECT id FROM patient_keys WHERE patient = @patient", row => row.GetString(0), ("@patient", clinic.NameOf(patientNumber)))
        .SingleOrDefault();

    /// <summary>The identities of all keys of a patient: one more for each case that came to them by a corrected number.</summary>
    public IReadOnlyList<string> AllOf(DbTransaction transaction, string patientNumber) =>
    [
        .. transaction.Rows("SELECT id, patient FROM patient_keys ORDER BY id", row => (Id: row.GetString(0), Patient: row.GetString(1)))
            .Where(key => key.Patient == clinic.NameOf(patientNumber) || key.Patient == FurtherName(patientNumber, key.Id))
            .Select(key => key.Id),
    ];

    /// <summary>Gives a key to another patient, who may have one already.</summary>
    public void GiveTo(DbTransaction transaction, string id, string patientNumber) => transaction.Execute(
        "UPDATE patient_keys SET patient = @patient WHERE id = @id",
        ("@patient", IdOf(transaction, patientNumber) is null ? clinic.NameOf(patientNumber) : FurtherName(patientNumber, id)),
        ("@id", id));

    /// <summary>A key by its identity; null when it was destroyed.</summary>
    /// <exception cref="CryptographicException">The key's row was changed.</exception>
    public PatientKey? Find(DbTransaction transaction, string id)
    {
        var wrapped = transaction.Rows("SELECT wrapped FROM patient_keys WHERE id = @id", row => (byte[])row.GetValue(0), ("@id", id)).SingleOrDefault();
        return wrapped is null ? null : Unwrap(id, wrapped);
    }

    /// <summary>A key as the table holds it.</summary>
    /// <exception cref="CryptographicException">It was changed.</exception>
    public PatientKey Unwrap(string id, byte[] wrapped) =>
        new(id, clinic.Unwrap(id, wrapped) ?? throw new CryptographicException($"The key {id} of a patient was changed or damaged."));

    /// <summary>Destroys a key: nothing that was sealed with it can be read again.</summary>
    public static void Destroy(DbTransaction transaction, string id) =>
        transaction.Execute("DELETE FROM patient_keys WHERE id = @id", ("@id", id));

    // A line feed is in no patient number that was typed into one line.
    private string FurtherName(string patientNumber, string id) => clinic.NameOf($"{patientNumber}\n{id}");
}
