namespace Secondpass.Job.Demo;

/// <summary>The clock of a story: it stands at the step that is being played.</summary>
/// <param name="real">The real clock: the zone, and today, from which days are counted unless a story began on an earlier one.</param>
internal sealed class StoryClock(TimeProvider real) : TimeProvider
{
    private DateOnly today = DateOnly.FromDateTime(real.GetLocalNow().DateTime);
    private DateTimeOffset now = real.GetUtcNow();

    /// <inheritdoc/>
    public override TimeZoneInfo LocalTimeZone => real.LocalTimeZone;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => now;

    /// <summary>A day of that number.</summary>
    public DateOnly Day(int fromToday) => today.AddDays(fromToday);

    /// <summary>Counts days from today.</summary>
    public void CountFromToday() => today = DateOnly.FromDateTime(real.GetLocalNow().DateTime);

    /// <summary>Counts days so that a moment lies on a day of a given number.</summary>
    public void CountFrom(DateTimeOffset moment, int fromToday) =>
        today = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(moment, LocalTimeZone).DateTime).AddDays(-fromToday);

    /// <summary>Sets it to a time on a day of that number.</summary>
    public void Set(int fromToday, TimeOnly time)
    {
        var local = Day(fromToday).ToDateTime(time);
        now = new DateTimeOffset(local, LocalTimeZone.GetUtcOffset(local)).ToUniversalTime();
    }
}
