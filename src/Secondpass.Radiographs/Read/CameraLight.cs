namespace Secondpass.Radiographs.Read;

/// <summary>Between the values of a camera's picture and the light that they stand for (sRGB, IEC 61966-2-1:1999, 5.2 and 5.3).</summary>
/// <remarks>A telephone also bends its greys from place to place to please the eye; that isn't known to the file and stays in.</remarks>
internal static class CameraLight
{
    /// <summary>The light of an encoded value; both as shares of white.</summary>
    public static double Of(double encoded) => encoded <= 0.04045 ? encoded / 12.92 : Math.Pow((encoded + 0.055) / 1.055, 2.4);

    /// <summary>The encoded value of a light; both as shares of white.</summary>
    public static double Encoded(double light) => light <= 0.0031308 ? light * 12.92 : (1.055 * Math.Pow(light, 1 / 2.4)) - 0.055;
}
