namespace Secondpass.Phantoms.Anatomy;

/// <summary>The part of a ray inside a solid, in mm of depth z.</summary>
/// <param name="From">Where the ray enters.</param>
/// <param name="To">Where it leaves.</param>
public readonly record struct Chord(float From, float To)
{
    /// <summary>Depth between both.</summary>
    public float Length => To - From;
}

/// <summary>A ray from the source to the film in the tooth's frame: x = X0 + Kx·z and y = Y0 + Ky·z, in mm.</summary>
/// <param name="X0">x where z is 0.</param>
/// <param name="Kx">Change of x with z.</param>
/// <param name="Y0">y where z is 0.</param>
/// <param name="Ky">Change of y with z.</param>
public readonly record struct Ray(float X0, float Kx, float Y0, float Ky)
{
    /// <summary>Length along the ray per mm of depth.</summary>
    public float Slant => MathF.Sqrt(1 + (Kx * Kx) + (Ky * Ky));
}

/// <summary>A solid given by its elliptical sections at equal steps of y: a root, a canal, a crown, a cusp.</summary>
/// <remarks>
/// Frame of the tooth in mm: x mesiodistal (right on the film), y from crown to apex with 0 at the neck, z towards the film.
/// Sections are cut across y, also where the solid runs obliquely, so a round canal that leans has sections that are wider along x.
/// </remarks>
public sealed class Column
{
    /// <summary>Distance between sections in mm.</summary>
    public const float Step = 0.05f;

    private readonly float[] centreX;
    private readonly float[] centreZ;
    private readonly float[] halfX;
    private readonly float[] halfZ;
    private readonly float cosine;
    private readonly float sine;

    /// <summary>Makes a solid from its sections.</summary>
    /// <param name="fromY">y of the first section in mm.</param>
    /// <param name="centreX">x of the sections' centres in mm, every <see cref="Step"/>.</param>
    /// <param name="centreZ">z of the sections' centres in mm.</param>
    /// <param name="halfX">Half widths along the first axis in mm; 0 where the solid ends.</param>
    /// <param name="halfZ">Half widths along the second axis in mm.</param>
    /// <param name="turnDegrees">Angle from x to the first axis, in the plane across y, in degrees.</param>
    public Column(float fromY, float[] centreX, float[] centreZ, float[] halfX, float[] halfZ, double turnDegrees = 0)
    {
        FromY = fromY;
        this.centreX = centreX;
        this.centreZ = centreZ;
        this.halfX = halfX;
        this.halfZ = halfZ;
        TurnDegrees = turnDegrees;
        cosine = (float)Math.Cos(double.DegreesToRadians(turnDegrees));
        sine = (float)Math.Sin(double.DegreesToRadians(turnDegrees));
        MinX = float.MaxValue;
        MaxX = float.MinValue;
        MinZ = float.MaxValue;
        MaxZ = float.MinValue;
        for (var i = 0; i < centreX.Length; i++)
        {
            var reach = MathF.Max(halfX[i], halfZ[i]);
            var reachX = turnDegrees == 0 ? halfX[i] : reach;
            var reachZ = turnDegrees == 0 ? halfZ[i] : reach;
            MinX = MathF.Min(MinX, centreX[i] - reachX);
            MaxX = MathF.Max(MaxX, centreX[i] + reachX);
            MinZ = MathF.Min(MinZ, centreZ[i] - reachZ);
            MaxZ = MathF.Max(MaxZ, centreZ[i] + reachZ);
        }
    }

    /// <summary>y of the first section in mm.</summary>
    public float FromY { get; }

    /// <summary>y of the last section in mm.</summary>
    public float ToY => FromY + ((centreX.Length - 1) * Step);

    /// <summary>Angle from x to the sections' first axis in degrees.</summary>
    public double TurnDegrees { get; }

    internal float MinX { get; }

    internal float MaxX { get; }

    internal float MinZ { get; }

    internal float MaxZ { get; }

    internal int Count => centreX.Length;

    /// <summary>Builds a solid by asking for each section.</summary>
    /// <param name="fromY">y of the first section in mm.</param>
    /// <param name="toY">y of the last section in mm, rounded to whole steps.</param>
    /// <param name="section">Centre x, centre z, half width x, half width z at a y, all in mm.</param>
    /// <param name="turnDegrees">As in the constructor.</param>
    public static Column From(double fromY, double toY, Func<double, (double X, double Z, double HalfX, double HalfZ)> section, double turnDegrees = 0)
    {
        ArgumentNullException.ThrowIfNull(section);
        var count = Math.Max(2, (int)Math.Round((toY - fromY) / Step, MidpointRounding.AwayFromZero) + 1);
        var (x, z, a, b) = (new float[count], new float[count], new float[count], new float[count]);
        for (var i = 0; i < count; i++)
        {
            var (cx, cz, hx, hz) = section(fromY + (i * Step));
            (x[i], z[i], a[i], b[i]) = ((float)cx, (float)cz, (float)Math.Max(0, hx), (float)Math.Max(0, hz));
        }

        return new Column((float)fromY, x, z, a, b, turnDegrees);
    }

    /// <summary>Centre and half widths at a y, interpolated; outside the solid those of its ends.</summary>
    public (double X, double Z, double HalfX, double HalfZ) SectionAt(double y)
    {
        var at = Math.Clamp((y - FromY) / Step, 0, Count - 1);
        var i = Math.Min((int)at, Count - 2);
        var share = at - i;
        return (Between(centreX, i, share), Between(centreZ, i, share), Between(halfX, i, share), Between(halfZ, i, share));
    }

    /// <summary>Volume in mm³.</summary>
    public double Volume()
    {
        double sum = 0;
        for (var i = 0; i < Count; i++)
        {
            sum += halfX[i] * halfZ[i] * (i == 0 || i == Count - 1 ? 0.5 : 1);
        }

        return sum * Math.PI * Step;
    }

    /// <summary>The same solid moved.</summary>
    public Column Moved(double x, double y, double z) =>
        new((float)(FromY + y), [.. centreX.Select(v => (float)(v + x))], [.. centreZ.Select(v => (float)(v + z))], halfX, halfZ, TurnDegrees);

    /// <summary>The same solid, its sections grown by a margin on every side; a pointed end is carried on by the margin and rounded.</summary>
    /// <param name="margin">Margin in mm.</param>
    /// <param name="carryEndOn">Whether the apical end moves out too.</param>
    public Column Grown(double margin, bool carryEndOn)
    {
        var toY = ToY + (carryEndOn ? margin : 0);
        return From(
            FromY,
            toY,
            y =>
            {
                var share = (y - FromY) / (toY - FromY);
                var section = SectionAt(FromY + (share * (ToY - FromY)));
                var rounding = carryEndOn ? Math.Sqrt(Math.Clamp((toY - y) / (2 * margin), 0, 1)) : 1;
                return (section.X, section.Z, section.HalfX + (margin * rounding), section.HalfZ + (margin * rounding));
            },
            TurnDegrees);
    }

    /// <summary>Where a ray passes through the solid.</summary>
    /// <param name="ray">The ray.</param>
    /// <param name="chord">The part inside.</param>
    /// <returns>Whether the ray meets the solid.</returns>
    /// <remarks>Along the ray the sections are taken as an oblique cylinder with the section where the ray passes the axis.</remarks>
    public bool Meets(in Ray ray, out Chord chord) => Meets(ray, out chord, out _);

    /// <summary>As <see cref="Meets(in Ray, out Chord)"/>, with what is needed to find places inside the section.</summary>
    internal bool Meets(in Ray ray, out Chord chord, out Passage passage)
    {
        chord = default;
        passage = default;
        const float perStep = 1 / Step;
        var last = centreX.Length - 2;
        var at = (ray.Y0 - FromY) * perStep;
        if (ray.Ky != 0)
        {
            for (var turn = 0; turn < 2; turn++)
            {
                var index = Math.Clamp((int)at, 0, last);
                at = (ray.Y0 + (ray.Ky * centreZ[index]) - FromY) * perStep;
            }
        }

        if (at < 0 || at >= last + 1)
        {
            return false;
        }

        var i = Math.Min((int)at, last);
        var share = at - i;
        var a = halfX[i] + (share * (halfX[i + 1] - halfX[i]));
        var b = halfZ[i] + (share * (halfZ[i + 1] - halfZ[i]));
        if (a <= 1e-4f || b <= 1e-4f)
        {
            return false;
        }

        var stepX = centreX[i + 1] - centreX[i];
        var stepZ = centreZ[i + 1] - centreZ[i];
        var cx = centreX[i] + (share * stepX);
        var cz = centreZ[i] + (share * stepZ);
        var e = ray.X0 + (ray.Kx * cz) - cx;
        var f = ray.Kx - (stepX * perStep * ray.Ky);
        var g = 1 - (stepZ * perStep * ray.Ky);
        var p0 = cosine * e;
        var p1 = (cosine * f) + (sine * g);
        var q0 = -sine * e;
        var q1 = (-sine * f) + (cosine * g);
        var ia = 1 / (a * a);
        var ib = 1 / (b * b);
        var quadratic = (p1 * p1 * ia) + (q1 * q1 * ib);
        var linear = (p0 * p1 * ia) + (q0 * q1 * ib);
        var constant = (p0 * p0 * ia) + (q0 * q0 * ib) - 1;
        var discriminant = (linear * linear) - (quadratic * constant);
        if (discriminant <= 0)
        {
            return false;
        }

        var root = MathF.Sqrt(discriminant);
        chord = new Chord(cz + ((-linear - root) / quadratic), cz + ((-linear + root) / quadratic));
        passage = new Passage(cz, FromY + (at * Step), ray.Ky, p0 / a, p1 / a, q0 / b, q1 / b);
        return true;
    }

    private static double Between(float[] values, int i, double share) => values[i] + (share * (values[i + 1] - values[i]));
}

/// <summary>How a ray runs through a section: places on it in units of the section's half widths.</summary>
internal readonly record struct Passage(float AxisZ, float AxisY, float Ky, float P0, float P1, float Q0, float Q1)
{
    public (float Y, float P, float Q) At(float z)
    {
        var d = z - AxisZ;
        return (AxisY + (Ky * d), P0 + (P1 * d), Q0 + (Q1 * d));
    }
}
