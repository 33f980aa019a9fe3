using System.Runtime.CompilerServices;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>The rod that explains a cross profile best: background that slopes evenly, plus the blurred shadow of a round rod.</summary>
/// <param name="CentrePixels">Offset of the axis from the path, positive to the left.</param>
/// <param name="RadiusPixels">Radius.</param>
/// <param name="GreyPerPixel">Grey levels per pixel of rod thickness; positive when more radiopaque.</param>
/// <param name="Background">Grey level of the background at the rod's axis.</param>
/// <param name="BackgroundSlope">Grey levels per pixel of the background, towards the left.</param>
/// <param name="ResidualDeviation">Root mean square of what the fit leaves unexplained, in grey levels.</param>
internal readonly record struct RodFit(
    double CentrePixels,
    double RadiusPixels,
    double GreyPerPixel,
    double Background,
    double BackgroundSlope,
    double ResidualDeviation)
{
    public const double LeastRadiusPixels = 1.0;

    /// <summary>Grey levels by which the axis stands out.</summary>
    public double Contrast(double blurPixels) =>
        GreyPerPixel * BlurredCylinder.Thickness(0, RadiusPixels, blurPixels);

    /// <summary>Fits a rod.</summary>
    /// <param name="profile">Grey values across, one per pixel, the path in the middle; not a number where the film doesn't tell.</param>
    /// <param name="blurPixels">Blur of the film.</param>
    /// <param name="startCentre">First guess of the centre's offset.</param>
    /// <param name="startRadius">First guess of the radius.</param>
    /// <param name="sideReachPixels">How far beyond the rod's edge the background is looked at.</param>
    /// <param name="greatestRadius">Radius not to be passed.</param>
    public static RodFit Find(
        ReadOnlySpan<double> profile,
        double blurPixels,
        double startCentre,
        double startRadius,
        double sideReachPixels,
        double greatestRadius)
    {
        var centre = startCentre;
        var radius = Math.Clamp(startRadius, LeastRadiusPixels, greatestRadius);
        var reach = radius + sideReachPixels;
        Span<double> shadow = stackalloc double[profile.Length];
        Span<double> movedShadow = stackalloc double[profile.Length];
        Span<double> widerShadow = stackalloc double[profile.Length];
        Span<double> nextShadow = stackalloc double[profile.Length];
        var best = Linear(profile, blurPixels, centre, radius, startCentre, reach, shadow);
        var damping = 1e-2;
        for (var round = 0; round < 12; round++)
        {
            const double Step = 0.05;
            var byCentre = Linear(profile, blurPixels, centre + Step, radius, startCentre, reach, movedShadow);
            var byRadius = Linear(profile, blurPixels, centre, radius + Step, startCentre, reach, widerShadow);
            var (stepCentre, stepRadius) = GaussNewton(
                profile, best, shadow, byCentre, movedShadow, byRadius, widerShadow, Step, startCentre, reach, damping);
            var nextCentre = centre + Math.Clamp(stepCentre, -2, 2);
            var nextRadius = Math.Clamp(radius + Math.Clamp(stepRadius, -2, 2), LeastRadiusPixels, greatestRadius);
            if (Math.Abs(nextCentre - startCentre) > reach)
            {
                break;
            }

            var next = Linear(profile, blurPixels, nextCentre, nextRadius, startCentre, reach, nextShadow);
            if (next.ResidualDeviation < best.ResidualDeviation)
            {
                var gain = best.ResidualDeviation - next.ResidualDeviation;
                centre = nextCentre;
                radius = nextRadius;
                best = next;
                nextShadow.CopyTo(shadow);
                damping = Math.Max(damping * 0.3, 1e-6);
                if (gain < 1e-4 * best.ResidualDeviation)
                {
                    break;
                }
            }
            else
            {
                damping *= 8;
                if (damping > 1e3)
                {
                    break;
                }
            }
        }

        return best;
    }

    /// <summary>Background, slope and strength for a rod of given place and size, by least squares; tells the rod's shadow at each value of the window.</summary>
    [MethodImpl(Compilation.AtOnce)]
    private static RodFit Linear(
        ReadOnlySpan<double> profile,
        double blurPixels,
        double centre,
        double radius,
        double windowCentre,
        double windowReach,
        Span<double> shadow)
    {
        var (first, last) = Window(profile.Length, windowCentre, windowReach);
        var rodShadow = new BlurredCylinder.Rod(radius, blurPixels);
        double s0 = 0, s1 = 0, s2 = 0, st = 0, st1 = 0, stt = 0, sv = 0, sv1 = 0, svt = 0, svv = 0;
        for (var i = first; i <= last; i++)
        {
            var offset = CrossProfile.OffsetOf(i, profile.Length) - centre;
            var rod = rodShadow.Thickness(offset);
            shadow[i] = rod;
            var value = profile[i];
            if (double.IsNaN(value))
            {
                continue;
            }

            s0++;
            s1 += offset;
            s2 += offset * offset;
            st += rod;
            st1 += rod * offset;
            stt += rod * rod;
            sv += value;
            sv1 += value * offset;
            svt += value * rod;
            svv += value * value;
        }

        var (a, b, c) = Solve3(s0, s1, st, s2, st1, stt, sv, sv1, svt);
        var rest = svv - (a * sv) - (b * sv1) - (c * svt);
        return new RodFit(centre, radius, c, a, b, Math.Sqrt(Math.Max(rest, 0) / Math.Max(1, s0 - 5)));
    }

    private static (int First, int Last) Window(int count, double centre, double reach)
    {
        var middle = count / 2;
        var first = Math.Clamp((int)Math.Floor(middle - centre - reach), 0, count - 1);
        var last = Math.Clamp((int)Math.Ceiling(middle - centre + reach), 0, count - 1);
        return (first, last);
    }

    [MethodImpl(Compilation.AtOnce)]
    private static (double Centre, double Radius) GaussNewton(
        ReadOnlySpan<double> profile,
        RodFit here,
        ReadOnlySpan<double> shadow,
        RodFit byCentre,
        ReadOnlySpan<double> movedShadow,
        RodFit byRadius,
        ReadOnlySpan<double> widerShadow,
        double step,
        double windowCentre,
        double windowReach,
        double damping)
    {
        var (first, last) = Window(profile.Length, windowCentre, windowReach);
        double cc = 0, cr = 0, rr = 0, gc = 0, gr = 0;
        for (var i = first; i <= last; i++)
        {
            if (double.IsNaN(profile[i]))
            {
                continue;
            }

            var offset = CrossProfile.OffsetOf(i, profile.Length);
            var model = here.Model(offset, shadow[i]);
            var alongCentre = (byCentre.Model(offset, movedShadow[i]) - model) / step;
            var alongRadius = (byRadius.Model(offset, widerShadow[i]) - model) / step;
            var rest = profile[i] - model;
            cc += alongCentre * alongCentre;
            cr += alongCentre * alongRadius;
            rr += alongRadius * alongRadius;
            gc += alongCentre * rest;
            gr += alongRadius * rest;
        }

        cc *= 1 + damping;
        rr *= 1 + damping;
        var determinant = (cc * rr) - (cr * cr);
        return determinant <= 1e-12 * cc * rr
            ? (0, 0)
            : (((rr * gc) - (cr * gr)) / determinant, ((cc * gr) - (cr * gc)) / determinant);
    }

    private double Model(double offset, double shadowPixels) =>
        Background + (BackgroundSlope * (offset - CentrePixels)) + (GreyPerPixel * shadowPixels);

    private static (double A, double B, double C) Solve3(
        double m00,
        double m01,
        double m02,
        double m11,
        double m12,
        double m22,
        double v0,
        double v1,
        double v2)
    {
        // Cholesky-like elimination; a rod narrower than the sampling leaves the last pivot near zero.
        var l10 = m01 / m00;
        var l20 = m02 / m00;
        var d1 = m11 - (l10 * m01);
        var e12 = m12 - (l10 * m02);
        var d2 = m22 - (l20 * m02);
        var u1 = v1 - (l10 * v0);
        var u2 = v2 - (l20 * v0);
        if (d1 <= 0)
        {
            return (v0 / m00, 0, 0);
        }

        var l21 = e12 / d1;
        var d = d2 - (l21 * e12);
        var u = u2 - (l21 * u1);
        var c = d > 1e-9 * m22 ? u / d : 0;
        var b = (u1 - (e12 * c)) / d1;
        var a = (v0 - (m01 * b) - (m02 * c)) / m00;
        return (a, b, c);
    }
}
