namespace Secondpass.Domain.Anatomy;

/// <summary>The ways in which a tooth is written. The same digits mean different teeth in them.</summary>
public enum ToothNotation
{
    /// <summary>Two digits after ISO 3950: quadrant, then position, such as 16.</summary>
    Iso3950,

    /// <summary>Universal numbers 1–32 from the upper right third molar round to the lower right one; letters A–T for deciduous teeth.</summary>
    Universal,

    /// <summary>Letters for the quadrant, then the position, such as UR6; letters A–E for deciduous teeth.</summary>
    QuadrantLetters,
}
