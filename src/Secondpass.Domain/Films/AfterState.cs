namespace Secondpass.Domain.Films;

/// <summary>What stands in a canal on the film taken after or during treatment. Asked, never guessed.</summary>
public enum AfterState
{
    /// <summary>The filling was taken out as far as it went; nothing else was put in.</summary>
    Removed,

    /// <summary>An instrument stands in the canal.</summary>
    InstrumentIn,

    /// <summary>A dressing was placed.</summary>
    Dressing,

    /// <summary>The canal was filled again.</summary>
    Refilled,
}
