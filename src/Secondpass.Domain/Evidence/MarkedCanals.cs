namespace Secondpass.Domain.Evidence;

/// <summary>How far a canal may run from the few marks that were set on it.</summary>
public static class MarkedCanals
{
    /// <summary>How far an arc that turns by a right angle leaves the straight line between its ends, as a share of that line.</summary>
    /// <remarks>An arc that turns by θ over a chord c has the sagitta (c / 2) · tan(θ / 4); for 90° that is 0.207 c. A canal that turns further is marked at its bend too.</remarks>
    public static Sourced<double> RightAngleSag { get; } = new(
        "Sagitta of an arc that turns by 90°, as a share of its chord",
        0.5 * (Math.Sqrt(2) - 1),
        "share of the chord",
        null,
        "Geometry: (c / 2) · tan(90° / 4).",
        Standing.Derived);

    /// <summary>How far a mark may lie from the place it means.</summary>
    public static Sourced<double> MarkReachPixels { get; } = new(
        "Reach of a mark set by hand",
        8,
        "pixels",
        null,
        "A mark set by hand is met within 8 pixels, about a quarter of a millimetre on a common sensor; beyond that another canal could be taken.",
        Standing.OwnChoice);
}
