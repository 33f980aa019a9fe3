using System.Globalization;

namespace Secondpass.App.Pages.Shared;

/// <summary>Moments as people say them.</summary>
internal static class Moments
{
    /// <summary>A time as this computer's clock on the wall shows it, such as "4 March 2026, 09:30".</summary>
    public static string InWords(DateTimeOffset at, TimeProvider time) =>
        TimeZoneInfo.ConvertTime(at, time.LocalTimeZone).ToString("d MMMM yyyy, HH:mm", CultureInfo.InvariantCulture);
}
