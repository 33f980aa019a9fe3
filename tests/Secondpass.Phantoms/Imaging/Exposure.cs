using Secondpass.Phantoms.Matter;

namespace Secondpass.Phantoms.Imaging;

/// <summary>How the sensor and its program turn what arrives into grey values.</summary>
public sealed record Exposure
{
    /// <summary>The beam.</summary>
    public Spectrum Beam { get; init; } = Spectrum.Usual;

    /// <summary>Photons that one pixel would count in air.</summary>
    public double PhotonsPerPixel { get; init; } = 4000;

    /// <summary>Blur by focal spot and sensor: standard deviation of a Gaussian in mm on the film.</summary>
    public double BlurMillimetres { get; init; } = 0.05;

    /// <summary>How far light spreads one photon's signal in the sensor: standard deviation in pixels. It makes neighbouring pixels' noise alike.</summary>
    public double NoiseSpreadPixels { get; init; } = 0.6;

    /// <summary>Electronic noise as a share of the signal in air.</summary>
    public double ElectronicNoise { get; init; } = 0.0012;

    /// <summary>Scattered radiation as an even share of the mean signal.</summary>
    public double ScatterShare { get; init; } = 0.10;

    /// <summary>What grey follows.</summary>
    public GreyScale Scale { get; init; } = GreyScale.Logarithm;

    /// <summary>For <see cref="GreyScale.Film"/>: exposure in air over the exposure that blackens film to 1 − 1/e of the most it can.</summary>
    public double FilmExposure { get; init; } = 2;

    /// <summary>Exponent applied to the grey scale from 0 to 1.</summary>
    public double Gamma { get; init; } = 0.7;

    /// <summary>Share of pixels that the automatic contrast clips at each end.</summary>
    public double ClippedShare { get; init; } = 0.0005;

    /// <summary>Whether radiopaque is shown dark.</summary>
    public bool Inverted { get; init; }

    /// <summary>Bits per pixel: 8, 12 or 16.</summary>
    public int Bits { get; init; } = 12;
}

/// <summary>What grey follows, radiopaque being light.</summary>
public enum GreyScale
{
    /// <summary>The logarithm of the signal: the sum of what attenuates.</summary>
    Logarithm,

    /// <summary>The signal itself.</summary>
    Signal,

    /// <summary>Film without screens: grains blacken by single photons, so that density is 1 − exp(−exposure) of the most (from memory).</summary>
    Film,
}
