namespace Secondpass.Domain.Films;

/// <summary>The file formats that films are read from.</summary>
public enum FilmFormat
{
    /// <summary>Portable Network Graphics.</summary>
    Png,

    /// <summary>JPEG.</summary>
    Jpeg,

    /// <summary>Tagged Image File Format.</summary>
    Tiff,

    /// <summary>DICOM Part 10 file.</summary>
    Dicom,

    /// <summary>Bitmap file of Windows.</summary>
    Bmp,

    /// <summary>Made by a program, not read from a file.</summary>
    Simulated,
}
