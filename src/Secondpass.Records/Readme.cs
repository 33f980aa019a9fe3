namespace Secondpass.Records;

/// <summary>The text that stands in a data folder.</summary>
internal static class Readme
{
    public const string Text =
        """
        This folder holds the data of Secondpass on this computer.

        secondpass.db   what was decided and kept: an SQLite database, with a -wal and a -shm file while it is open
        films/          the original files of the films, untouched, each named by the SHA-256 of its content
        case-files/     papers, photographs and letters of cases, untouched, named in the same way
        sheets/         the record sheets (PDF) of kept comparisons, named in the same way

        These are patients' data: protect this folder like a patient's file.
        To back it up, stop Secondpass and copy the whole folder. Don't change or delete single files.
        A film that belongs to no kept comparison is removed when its comparison is thrown away, or a day later.

        """;
}
