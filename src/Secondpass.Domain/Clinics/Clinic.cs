namespace Secondpass.Domain.Clinics;

/// <summary>The clinic as its events say, in order.</summary>
/// <remarks>Not stored: it is read off the events. Version counts them and guards edits.</remarks>
public sealed record Clinic
{
    private Clinic()
    {
    }

    /// <summary>A clinic of which nothing was entered yet.</summary>
    public static Clinic Start { get; } = new();

    /// <summary>How it is named on letters; null when not entered yet.</summary>
    public ClinicDetails? Details { get; private init; }

    /// <summary>How many events it was read off.</summary>
    public long Version { get; private init; }

    /// <summary>Reads a clinic off its events.</summary>
    public static Clinic From(IReadOnlyList<ClinicEvent> events)
    {
        ArgumentNullException.ThrowIfNull(events);
        return events.Aggregate(Start, (so, next) => so.With(next));
    }

    /// <summary>The clinic after one more event; an event that it doesn't know leaves it as it is.</summary>
    public Clinic With(ClinicEvent next)
    {
        var with = next switch
        {
            ClinicNamed named => this with { Details = named.Details },
            _ => this,
        };
        return with with { Version = Version + 1 };
    }
}
