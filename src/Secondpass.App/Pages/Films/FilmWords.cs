using System.Globalization;
using Secondpass.App.Pages.Shared;
using Secondpass.Domain.Films;

namespace Secondpass.App.Pages.Films;

/// <summary>What a film's file says, in words.</summary>
internal static class FilmWords
{
    /// <summary>Whom it shows.</summary>
    public static string Patient(StatedIdentity stated)
    {
        ArgumentNullException.ThrowIfNull(stated);
        string?[] parts =
        [
            stated.PatientName,
            stated.PatientNumber is { } number ? $"number {number}" : null,
            stated.Born is { } born ? "born " + Day(born) : null,
        ];
        return stated.NamesPatient ? string.Join(", ", parts.Where(part => part is not null)) : "The file names no patient.";
    }

    /// <summary>Which teeth it names; null when none.</summary>
    public static string? Teeth(StatedIdentity stated)
    {
        ArgumentNullException.ThrowIfNull(stated);
        return stated.Teeth.Count == 0 ? null : string.Join(", ", stated.Teeth.Select(tooth => $"{tooth} {tooth.Words}"));
    }

    /// <summary>When it was taken as its file says; else when the file came.</summary>
    public static string When(StatedIdentity stated, DateTimeOffset? came, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(stated);
        return stated.TakenAt is { } taken
            ? "taken " + Moment(taken)
            : came is { } at ? "came " + Moments.InWords(at, time) : string.Empty;
    }

    /// <summary>A day with its time, such as "4 March 2026, 09:30"; midnight stands for a day of which no time is known.</summary>
    public static string Moment(DateTime at) => at.ToString(at.TimeOfDay == TimeSpan.Zero ? "d MMMM yyyy" : "d MMMM yyyy, HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A day, such as "4 March 1961".</summary>
    public static string Day(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);
}
