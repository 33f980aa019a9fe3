namespace Secondpass.Job.Demo;

/// <summary>The clock of a story: it stands at the step that is being played.</summary>
/// <param name="real">The real clock: today, and the zone.</param>
internal sealed class StoryClock(TimeProvider real) : TimeProvider
{
    private readonly DateOnly today = DateOnly.FromDateTime(real.GetLocalNow().DateTime);
    private DateTimeOffset now = real.GetUtcNow();

    /// <inheritdoc/>
    public override TimeZoneInfo LocalTimeZone => real.LocalTimeZone;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => now;

    /// <summary>A day counted from today.</summary>
    public DateOnly Day(int fromToday) => today.AddDays(fromToday);

    /// <summary>Sets it to a time on a day counted from today.</summary>
    public void Set(int fromToday, TimeOnly time)
    {
        var local = Day(fromToday).ToDateTime(time);
        now = new DateTimeOffset(local, LocalTimeZone.GetUtcOffset(local)).ToUniversalTime();
    }
}
