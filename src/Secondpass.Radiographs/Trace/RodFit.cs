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
        var (centre, radius) = (startCentre, Math.Clamp(startRadius, LeastRadiusPixels, greatestRadius));
        var reach = radius + sideReachPixels;
        var (best, towards) = Linear(profile, blurPixels, centre, radius, startCentre, reach);
        var damping = 1e-2;
        for (var round = 0; round < 12; round++)
        {
            var (stepCentre, stepRadius) = towards.Step(damping);
            var nextCentre = centre + Math.Clamp(stepCentre, -2, 2);
            var nextRadius = Math.Clamp(radius + Math.Clamp(stepRadius, -2, 2), LeastRadiusPixels, greatestRadius);
            if (Math.Abs(nextCentre - startCentre) > reach)
            {
                break;
            }

            var (next, onwards) = Linear(profile, blurPixels, nextCentre, nextRadius, startCentre, reach);
            if (next.ResidualDeviation < best.ResidualDeviation)
            {
                var gain = best.ResidualDeviation - next.ResidualDeviation;
                (centre, radius) = (nextCentre, nextRadius);
                (best, towards) = (next, onwards);
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

    /// <summary>
    /// Background, slope and strength for a rod of given place and size, by least squares; and how the fit grows better from there, with
    /// background, slope and strength following (Kaufman, BIT 1975;15:49–57).
    /// </summary>
    [MethodImpl(Compilation.AtOnce)]
    private static (RodFit Rod, Towards Better) Linear(
        ReadOnlySpan<double> profile,
        double blurPixels,
        double centre,
        double radius,
        double windowCentre,
        double windowReach)
    {
        var (first, last) = Window(profile.Length, windowCentre, windowReach);
        var rodShadow = new BlurredCylinder.Rod(radius, blurPixels);
        double s0 = 0, s1 = 0, s2 = 0, st = 0, st1 = 0, stt = 0, sv = 0, sv1 = 0, svt = 0, svv = 0;
        double c0 = 0, c1 = 0, ct = 0, cv = 0, r0 = 0, r1 = 0, rt = 0, rv = 0, cc = 0, cr = 0, rr = 0;
        for (var i = first; i <= last; i++)
        {
            var value = profile[i];
            if (double.IsNaN(value))
            {
                continue;
            }

            var offset = CrossProfile.OffsetOf(i, profile.Length) - centre;
            var (rod, perOffset, perRadius) = rodShadow.WithSlopes(offset);
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
            c0 -= perOffset;
            c1 -= perOffset * offset;
            ct -= perOffset * rod;
            cv -= perOffset * value;
            r0 += perRadius;
            r1 += perRadius * offset;
            rt += perRadius * rod;
            rv += perRadius * value;
            cc += perOffset * perOffset;
            cr -= perOffset * perRadius;
            rr += perRadius * perRadius;
        }

        var (a, b, c) = Solve3(s0, s1, st, s2, st1, stt, sv, sv1, svt);
        var rest = svv - (a * sv) - (b * sv1) - (c * svt);
        var (ac, bc, tc) = Solve3(s0, s1, st, s2, st1, stt, c0, c1, ct);
        var (ar, br, tr) = Solve3(s0, s1, st, s2, st1, stt, r0, r1, rt);
        return (
            new RodFit(centre, radius, c, a, b, Math.Sqrt(Math.Max(rest, 0) / Math.Max(1, s0 - 5))),
            new Towards(
                c * c * (cc - (ac * c0) - (bc * c1) - (tc * ct)),
                c * c * (cr - (ar * c0) - (br * c1) - (tr * ct)),
                c * c * (rr - (ar * r0) - (br * r1) - (tr * rt)),
                c * (cv - (a * c0) - (b * c1) - (c * ct)),
                c * (rv - (a * r0) - (b * r1) - (c * rt))));
    }

    private static (int First, int Last) Window(int count, double centre, double reach)
    {
        var middle = count / 2;
        var first = Math.Clamp((int)Math.Floor(middle - centre - reach), 0, count - 1);
        var last = Math.Clamp((int)Math.Ceiling(middle - centre + reach), 0, count - 1);
        return (first, last);
    }

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

    /// <summary>The normal equations of centre and radius at a fit: products of how the model changes with each, and with what the fit leaves unexplained.</summary>
    private readonly record struct Towards(double CentreCentre, double CentreRadius, double RadiusRadius, double CentreRest, double RadiusRest)
    {
        /// <summary>The damped step (Levenberg, Marquardt); none where both can't be told apart.</summary>
        public (double Centre, double Radius) Step(double damping)
        {
            var (cc, rr) = (CentreCentre * (1 + damping), RadiusRadius * (1 + damping));
            var determinant = (cc * rr) - (CentreRadius * CentreRadius);
            return determinant <= 1e-12 * cc * rr
                ? (0, 0)
                : (((rr * CentreRest) - (CentreRadius * RadiusRest)) / determinant, ((cc * RadiusRest) - (CentreRadius * CentreRest)) / determinant);
        }
    }
}
