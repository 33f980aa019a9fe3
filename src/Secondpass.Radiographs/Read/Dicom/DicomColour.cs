namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>What the values of a pixel mean (DICOM PS3.3, C.7.6.3.1.2).</summary>
internal enum DicomColour
{
    /// <summary>A grey.</summary>
    Grey,

    /// <summary>The place of a colour in three tables.</summary>
    Palette,

    /// <summary>Red, green and blue.</summary>
    Rgb,

    /// <summary>A luma and two colour differences.</summary>
    Differences,

    /// <summary>A luma for each pixel, and two colour differences for each two pixels beside each other.</summary>
    SharedDifferences,
}
