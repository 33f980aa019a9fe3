namespace Secondpass.Domain.Cases;

/// <summary>Two films were compared to tell buccal from lingual.</summary>
/// <param name="Reading">What was seen.</param>
public sealed record ParallaxRead(ParallaxReading Reading) : CaseEvent;

/// <summary>How a thing moved on the second film against what it is compared with.</summary>
public enum Movement
{
    /// <summary>Towards the midline of the arch.</summary>
    Mesial,

    /// <summary>Away from it.</summary>
    Distal,

    /// <summary>It did not move against what it is compared with.</summary>
    None,
}

/// <summary>Where a thing lies against what it is compared with.</summary>
public enum ParallaxSide
{
    /// <summary>On the side of the cheek.</summary>
    Buccal,

    /// <summary>On the side of the tongue or palate.</summary>
    Lingual,

    /// <summary>In the same plane.</summary>
    SamePlane,
}

/// <summary>How a thing moved between two films taken with the tube shifted, and what follows.</summary>
/// <remarks>
/// The rule is geometry: what lies further from the tube, on the lingual side, moves on the film the same way as the tube,
/// what lies nearer moves the other way. It presumes that the film stood still.
/// </remarks>
/// <param name="Thing">What moved, such as "the second filling".</param>
/// <param name="ComparedWith">What its movement was seen against, such as MB1.</param>
/// <param name="First">The tube on the first film.</param>
/// <param name="Second">The tube on the second film.</param>
/// <param name="Moved">How it moved from the first to the second.</param>
public sealed record ParallaxReading(string Thing, string ComparedWith, TubeShift First, TubeShift Second, Movement Moved)
{
    /// <summary>Where the thing lies against what it is compared with.</summary>
    /// <returns>The side; or a refusal when the tube stood alike on both films.</returns>
    public Answer<ParallaxSide> Side()
    {
        var tube = Place(Second) - Place(First);
        if (tube == 0)
        {
            return new Refusal(
                "tube_not_shifted",
                $"Both films are entered with the tube {InWords(First)}; without a shift nothing tells buccal from lingual.",
                "Enter how the tube stood on each of the two films, or choose two that differ.");
        }

        return Moved switch
        {
            Movement.None => ParallaxSide.SamePlane,
            Movement.Mesial => tube > 0 ? ParallaxSide.Lingual : ParallaxSide.Buccal,
            _ => tube < 0 ? ParallaxSide.Lingual : ParallaxSide.Buccal,
        };
    }

    /// <summary>The tube's place in words, such as "straight" or "shifted mesially".</summary>
    public static string InWords(TubeShift shift) => shift switch
    {
        TubeShift.Mesial => "shifted mesially",
        TubeShift.Distal => "shifted distally",
        _ => "straight",
    };

    private static int Place(TubeShift shift) => shift switch
    {
        TubeShift.Mesial => 1,
        TubeShift.Distal => -1,
        _ => 0,
    };
}
