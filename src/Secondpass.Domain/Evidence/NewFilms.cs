namespace Secondpass.Domain.Evidence;

/// <summary>The constants that waiting for films from the sensor rests on.</summary>
public static class NewFilms
{
    /// <summary>How long a file must not have changed before it is read.</summary>
    public static Sourced<double> RestSeconds { get; } = new(
        "Time for which a new film's file must not have changed before it is read",
        2,
        "seconds",
        null,
        "A film has a few MB; programs write and networks carry it without a pause as long. A file that goes on growing is read again.",
        Standing.OwnChoice);

    /// <summary>How long a file that can't be read as a film counts as one that is still being written.</summary>
    public static Sourced<double> PatienceSeconds { get; } = new(
        "Time for which a file that can't be read counts as still being written",
        10,
        "seconds",
        null,
        "Longer than a network usually stalls, shorter than anybody waits for a film. A file that changes later is read again.",
        Standing.OwnChoice);

    /// <summary>How long a film is offered as new after its file came into the folder.</summary>
    public static Sourced<double> OfferedDays { get; } = new(
        "Time for which a film is offered as new",
        7,
        "days",
        null,
        "Friday's film is there on Monday, also after a long weekend. Older ones are imported.",
        Standing.OwnChoice);

    /// <summary>The most films of the folder that are looked at, the newest first.</summary>
    public static Sourced<int> GreatestCount { get; } = new(
        "Greatest number of new films that are looked at",
        300,
        "films",
        null,
        "A week of a busy clinic. Keeps an archive that was chosen as the folder from taking the memory.",
        Standing.OwnChoice);

    /// <summary>The most files of one import.</summary>
    public static Sourced<int> GreatestImportCount { get; } = new(
        "Greatest number of files of one import",
        1000,
        "files",
        null,
        "A table that can still be looked through. A larger archive is imported folder by folder.",
        Standing.OwnChoice);

    /// <summary>The largest file that is read.</summary>
    public static Sourced<int> GreatestFileBytes { get; } = new(
        "Largest file that is read as a film",
        64 << 20,
        "bytes",
        null,
        "Many times an uncompressed intra-oral film; volumes and videos are larger.",
        Standing.OwnChoice);
}
