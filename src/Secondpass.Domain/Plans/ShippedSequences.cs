using Secondpass.Domain.Evidence;

namespace Secondpass.Domain.Plans;

/// <summary>The sequence that ships as an example; the clinic changes it or names its own.</summary>
public static class ShippedSequences
{
    /// <summary>Ultrasonic 25, then 30/.06, then 30/.04, then the adaptive-core file, at the speeds that some clinics run them.</summary>
    public static Sequence Example { get; } = new(
        "Ultrasonic first, then .06 and .04",
        [
            new("ultrasonic-25", null, null, "with coolant, only where its tip is seen"),
            new("retreatment-30-06", InstrumentFacts.RetreatmentSpeedInUse.Range!.Value.High, InstrumentFacts.RetreatmentTorque.Value, null),
            new("retreatment-30-04", InstrumentFacts.RetreatmentSpeedInUse.Range!.Value.High, InstrumentFacts.RetreatmentTorque.Value, null),
            new("adaptive-core-25", InstrumentFacts.AdaptiveCoreSpeed.Range!.Value.High, InstrumentFacts.AdaptiveCoreTorque.Value, null),
        ]);
}
