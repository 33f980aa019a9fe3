namespace Secondpass.Tests.Records;

/// <summary>A clock that stands where the test sets it.</summary>
internal sealed class SetClock : TimeProvider
{
    public DateTimeOffset Now { get; set; } = new(2026, 3, 4, 9, 30, 0, TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => Now;

    // Not UTC and without summer time: a test that mixes up the two would show.
    public override TimeZoneInfo LocalTimeZone { get; } = TimeZoneInfo.CreateCustomTimeZone("one hour ahead", TimeSpan.FromHours(1), null, null);
}
