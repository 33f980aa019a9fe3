using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;

namespace Secondpass.Phantoms.Imaging;

/// <summary>How source, tooth and film stand to each other. Lengths in mm in the tooth's frame, angles in degrees.</summary>
/// <remarks>
/// The film lies across z at <see cref="ToothToFilm"/>; the tube turns about the tooth's origin. With both angles at 0 the
/// central ray meets tooth and film at a right angle. Turning the tube by a horizontal angle h moves a thing that lies
/// dz nearer the film by about −dz·tan h along x relative to the tooth's origin: parallax.
/// </remarks>
public sealed record FilmGeometry
{
    /// <summary>From the source to the tooth's origin in mm.</summary>
    public double SourceToTooth { get; init; } = 300;

    /// <summary>From the tooth's origin to the film in mm.</summary>
    public double ToothToFilm { get; init; } = 10;

    /// <summary>Size of a pixel in mm.</summary>
    public double PixelSize { get; init; } = 0.03;

    /// <summary>Columns of the film.</summary>
    public int Width { get; init; } = 900;

    /// <summary>Rows of the film.</summary>
    public int Height { get; init; } = 1300;

    /// <summary>Turn of the tube about the tooth's long axis in degrees; positive: the source moves towards −x.</summary>
    public double HorizontalDegrees { get; init; }

    /// <summary>Turn of the tube about the mesiodistal axis in degrees; positive: the source moves towards the crown.</summary>
    public double VerticalDegrees { get; init; }

    /// <summary>Turn of the film in its own plane in degrees; positive turns the picture clockwise as shown.</summary>
    public double RotationDegrees { get; init; }

    /// <summary>Move of the picture to the right in pixels.</summary>
    public double ShiftX { get; init; }

    /// <summary>Move of the picture down in pixels.</summary>
    public double ShiftY { get; init; }

    /// <summary>y of the tooth's place that falls on the film's centre before the shift, in mm.</summary>
    public double AimY { get; init; } = 4;

    /// <summary>Whether the picture stands with the apices up, as films of upper teeth are shown.</summary>
    public bool ApexUp { get; init; }

    /// <summary>Whether the picture is mirrored left to right: a film turned over.</summary>
    public bool Mirrored { get; init; }

    /// <summary>Magnification at the tooth's origin.</summary>
    public double Magnification => (SourceZDepth + ToothToFilm) / SourceZDepth;

    /// <summary>Size of a pixel at the tooth's origin in mm: what a calibration by an object beside the tooth would find.</summary>
    public double PixelSizeAtTooth => PixelSize / Magnification;

    private double SourceZDepth => SourceToTooth * Math.Cos(double.DegreesToRadians(HorizontalDegrees)) * Math.Cos(double.DegreesToRadians(VerticalDegrees));

    /// <summary>The usual geometry, standing as films of this tooth are shown.</summary>
    public static FilmGeometry For(PhantomTooth tooth)
    {
        ArgumentNullException.ThrowIfNull(tooth);

        // The biting edge lies about 3 mm inside the film's border.
        return new FilmGeometry { ApexUp = tooth.ApexUp, AimY = tooth.Crown.TopY + 15.5 };
    }

    /// <summary>Where a place of the tooth falls on the film.</summary>
    /// <param name="x">x in mm.</param>
    /// <param name="y">y in mm.</param>
    /// <param name="z">z in mm; nearer the source than the film.</param>
    /// <returns>The place in pixels.</returns>
    public PixelPoint Project(double x, double y, double z)
    {
        var setting = new ProjectionSetting(this);
        return setting.Project(x, y, z);
    }

    /// <summary>The ray that ends at a place of the film.</summary>
    public Ray RayAt(double column, double row) => new ProjectionSetting(this).RayAt(column, row);
}

/// <summary>A geometry's numbers, worked out once.</summary>
internal readonly struct ProjectionSetting
{
    private readonly double sourceX;
    private readonly double sourceY;
    private readonly double sourceZ;
    private readonly double filmZ;
    private readonly double centreU;
    private readonly double centreV;
    private readonly double uPerColumn;
    private readonly double uPerRow;
    private readonly double vPerColumn;
    private readonly double vPerRow;
    private readonly double middleColumn;
    private readonly double middleRow;
    private readonly double pixelArea;

    public ProjectionSetting(FilmGeometry geometry)
    {
        var h = double.DegreesToRadians(geometry.HorizontalDegrees);
        var v = double.DegreesToRadians(geometry.VerticalDegrees);
        sourceX = -geometry.SourceToTooth * Math.Sin(h) * Math.Cos(v);
        sourceY = -geometry.SourceToTooth * Math.Sin(v);
        sourceZ = -geometry.SourceToTooth * Math.Cos(h) * Math.Cos(v);
        filmZ = geometry.ToothToFilm;
        var stretch = (filmZ - sourceZ) / (0 - sourceZ);
        centreU = sourceX + ((0 - sourceX) * stretch);
        centreV = sourceY + ((geometry.AimY - sourceY) * stretch);
        var r = double.DegreesToRadians(geometry.RotationDegrees);
        var (mirrorX, mirrorY) = (geometry.Mirrored ? -1.0 : 1.0, geometry.ApexUp ? -1.0 : 1.0);

        // Film place = turn · mirror · (u, v) / pixel size + middle; inverted here for rays.
        uPerColumn = mirrorX * Math.Cos(r) * geometry.PixelSize;
        uPerRow = mirrorX * Math.Sin(r) * geometry.PixelSize;
        vPerColumn = -mirrorY * Math.Sin(r) * geometry.PixelSize;
        vPerRow = mirrorY * Math.Cos(r) * geometry.PixelSize;
        middleColumn = ((geometry.Width - 1) / 2.0) + geometry.ShiftX;
        middleRow = ((geometry.Height - 1) / 2.0) + geometry.ShiftY;
        pixelArea = geometry.PixelSize * geometry.PixelSize;
    }

    public PixelPoint Project(double x, double y, double z)
    {
        var stretch = (filmZ - sourceZ) / (z - sourceZ);
        var u = sourceX + ((x - sourceX) * stretch) - centreU;
        var v = sourceY + ((y - sourceY) * stretch) - centreV;
        return new PixelPoint(
            middleColumn + (((u * uPerColumn) + (v * vPerColumn)) / pixelArea),
            middleRow + (((u * uPerRow) + (v * vPerRow)) / pixelArea));
    }

    public Ray RayAt(double column, double row)
    {
        var u = centreU + ((column - middleColumn) * uPerColumn) + ((row - middleRow) * uPerRow);
        var v = centreV + ((column - middleColumn) * vPerColumn) + ((row - middleRow) * vPerRow);
        var depth = filmZ - sourceZ;
        var kx = (u - sourceX) / depth;
        var ky = (v - sourceY) / depth;
        return new Ray((float)(sourceX - (kx * sourceZ)), (float)kx, (float)(sourceY - (ky * sourceZ)), (float)ky);
    }

    /// <summary>Volume per mm of depth that one pixel sees at a depth, in mm³ per mm: area of the pixel's shadow there.</summary>
    public double ShadowArea(double z)
    {
        var shrink = (z - sourceZ) / (filmZ - sourceZ);
        return pixelArea * shrink * shrink;
    }
}
