namespace Secondpass.Records;

/// <summary>The text that stands in a data folder.</summary>
internal static class Readme
{
    public const string Text =
        """
        This folder holds the data of Secondpass on this computer.

        clinic.key      the clinic key: without it the cases can't be read. Print the recovery sheet (secondpass key) and keep it elsewhere
        secondpass.db   what was decided and noted: an SQLite database, with a -wal and a -shm file while it is open;
                        missing where the data are on a PostgreSQL server. What was noted about patients is encrypted in it
        secondpass-copy-of-step-N-DATE-TIME.db
                        a copy made before an upgrade changed the database from step N; delete it when all is well
        films/          the original files of the films, untouched, each named by the SHA-256 of its content
        case-files/     papers, photographs and letters of cases, untouched, named in the same way
        sheets/         the record sheets (PDF) of kept comparisons, named in the same way

        These are patients' data: protect this folder like a patient's file.
        To back it up, stop Secondpass and copy the whole folder. Don't change or delete single files.
        A backup needs clinic.key too, or the recovery sheet. Films, papers and sheets are not encrypted: use the disk's own encryption.
        A file that belongs to no case and no kept comparison is removed a day later.

        """;
}
