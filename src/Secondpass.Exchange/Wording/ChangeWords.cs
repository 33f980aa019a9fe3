using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Wording;

/// <summary>Says in words what stands in the place of a change that can't be told.</summary>
public static class ChangeWords
{
    /// <summary>Why nothing is larger or smaller where it isn't known which film is earlier.</summary>
    public const string OrderNotKnown = "Which film is earlier isn’t known: give its date. Until then nothing is told of larger or smaller.";

    /// <summary>Why nothing is larger or smaller where an outline was measured with a scale that its film has no more.</summary>
    public const string OtherScale = "One of the two was measured with another scale than its film has now: measure it anew on its film. Until then nothing is told of larger or smaller.";

    /// <summary>Why no change is told; null when it is.</summary>
    /// <param name="change">The lesion on both films.</param>
    /// <param name="hasOtherScale">Whether one of the two was measured with another scale than its film has now.</param>
    public static string? WhyNone(LesionChange change, bool hasOtherScale)
    {
        ArgumentNullException.ThrowIfNull(change);
        return hasOtherScale ? OtherScale : change.IsOrderKnown ? null : OrderNotKnown;
    }

    /// <summary>Both sizes and no change, such as "Area 5.2 mm² (4.8–5.6) on the one, 2.5 mm² (2.2–2.8) on the other."</summary>
    /// <param name="change">The lesion on both films.</param>
    /// <param name="quantity">Area or largest diameter.</param>
    public static string Both(LesionChange change, DrawnQuantity quantity)
    {
        ArgumentNullException.ThrowIfNull(change);
        var name = quantity == DrawnQuantity.Area ? "Area" : "Largest diameter";
        return $"{name} {DrawnWords.Value(change.Before.Figure(quantity)!)} on the one, {DrawnWords.Value(change.After.Figure(quantity)!)} on the other.";
    }
}
