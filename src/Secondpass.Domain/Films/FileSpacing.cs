using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>What a file's stated scale refers to.</summary>
public enum SpacingMeaning
{
    /// <summary>The size of a pixel on the sensor; an object in front of it is magnified, so lengths read a little long.</summary>
    AtDetector,

    /// <summary>Corrected to the object, by geometry or by something of known size on the film.</summary>
    AtObject,

    /// <summary>The file gives a number without saying what it means.</summary>
    Unstated,
}

/// <summary>The scale that a file states for itself.</summary>
/// <param name="PixelWidth">Distance between neighbouring columns.</param>
/// <param name="PixelHeight">Distance between neighbouring rows.</param>
/// <param name="Meaning">What the number refers to.</param>
/// <remarks>Not yet a <see cref="Calibration"/>: it must be plausible, square and chosen before it measures anything.</remarks>
public readonly record struct FileSpacing(Millimetres PixelWidth, Millimetres PixelHeight, SpacingMeaning Meaning);
