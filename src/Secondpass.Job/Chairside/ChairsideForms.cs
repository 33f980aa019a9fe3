using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Chairside;

namespace Secondpass.Job.Chairside;

/// <summary>What every form at the chair sends: the number that it was given when it was shown, and the visit and canal it is about.</summary>
public abstract class ChairsideForm
{
    /// <summary>The entry's number, given when the form was shown: sent twice, it counts once.</summary>
    public long Key { get; set; }

    /// <summary>Number of the visit, from 1.</summary>
    public int Visit { get; set; }

    /// <summary>The canal; empty for the tooth.</summary>
    public string? Canal { get; set; }
}

/// <summary>A moment to be marked.</summary>
public sealed class MarkForm : ChairsideForm
{
    /// <summary>Which.</summary>
    public ChairsideMark Mark { get; set; }

    /// <summary>Time of day for a mark that was forgotten, such as "09:45"; empty for now.</summary>
    public string? Time { get; set; }
}

/// <summary>A step of taking the tooth apart that is ticked off.</summary>
public sealed class TakeDownForm : ChairsideForm
{
    /// <summary>What was done, in the words of the plan.</summary>
    public string? What { get; set; }
}

/// <summary>A step with an instrument.</summary>
public sealed class StepForm : ChairsideForm
{
    /// <summary>The instrument in words.</summary>
    public string? Instrument { get; set; }

    /// <summary>Its kind; empty when it is not of the catalogue.</summary>
    public string? KindCode { get; set; }

    /// <summary>The very item; empty when not said.</summary>
    public string? ItemId { get; set; }

    /// <summary>Depth in mm.</summary>
    public string? Depth { get; set; }

    /// <summary>The reference point that the depth was read from.</summary>
    public string? Reference { get; set; }

    /// <summary>What the depth was read to.</summary>
    public LengthEnd To { get; set; } = LengthEnd.FileStop;

    /// <summary>How it was read.</summary>
    public LengthSource Source { get; set; } = LengthSource.InstrumentStop;

    /// <summary>Anything else.</summary>
    public string? Note { get; set; }
}

/// <summary>What the eye saw.</summary>
public sealed class SeenForm : ChairsideForm
{
    /// <summary>Whether filling was seen; null when neither was said.</summary>
    public bool? FillingSeen { get; set; }

    /// <summary>On which wall.</summary>
    public string? Wall { get; set; }

    /// <summary>At which level in mm.</summary>
    public string? Level { get; set; }
}

/// <summary>Something that went wrong.</summary>
public sealed class EventForm : ChairsideForm
{
    /// <summary>What.</summary>
    public ProceduralEvent Event { get; set; }

    /// <summary>Length of a fragment in mm.</summary>
    public string? FragmentLength { get; set; }

    /// <summary>Level in mm from the reference point.</summary>
    public string? Level { get; set; }

    /// <summary>The reference point.</summary>
    public string? Reference { get; set; }

    /// <summary>Who was told; empty when nobody yet.</summary>
    public string? ToldTo { get; set; }

    /// <summary>Time of day when they were told; empty for now.</summary>
    public string? ToldTime { get; set; }

    /// <summary>Anything else.</summary>
    public string? Note { get; set; }
}

/// <summary>A correction of an earlier entry.</summary>
public sealed class CorrectionForm : ChairsideForm
{
    /// <summary>Number of the entry in the case.</summary>
    public int Entry { get; set; }

    /// <summary>What was wrong.</summary>
    public string? Reason { get; set; }

    /// <summary>The right time of day of a mark, such as "09:45"; empty: the entry doesn't hold at all.</summary>
    public string? Time { get; set; }

    /// <summary>Who was told of an event meanwhile; empty when this is not about that.</summary>
    public string? ToldTo { get; set; }

    /// <summary>Time of day when they were told; empty for now.</summary>
    public string? ToldTime { get; set; }
}
