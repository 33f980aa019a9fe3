using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Compare;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Compare;

/// <summary>Two canals of one root with a narrow wall between them, on drawn films of known truth.</summary>
public sealed class CanalsSideBySideTests
{
    private const int Width = 480;
    private const int Height = 520;
    private const double RadiusPixels = 9;
    private const double BlurPixels = 1.2;

    // Grey levels per pixel of filling; an empty canal is darker than dentine by 0.17 of that (FilmPhysics.EmptiedOverContrast).
    private const double Filling = 700;
    private const double Empty = -0.17 * Filling;

    // What lies beside one canal was taken for its unchanged ground although it was the other's filling: 14 to 21 % was read in the emptied one.
    // Where the wall between them is thinner than these 0.27 mm it still is: 11 % at 0.18 mm.
    [Theory]
    [InlineData(27)]
    [InlineData(30)]
    [InlineData(36)]
    public void What_is_left_in_one_canal_is_not_read_in_the_other(double apart)
    {
        var residues = Compared(apart, leftInFirst: 1);

        Assert.InRange(residues[0].Whole!.MassPercent!.Value.Value, 92, 108);
        Assert.InRange(residues[1].Whole!.MassPercent!.Value.Value, -6, 6);
    }

    [Fact]
    public void Reads_nothing_left_where_both_were_emptied() =>
        Assert.All(Compared(apart: 27, leftInFirst: 0), residue => Assert.InRange(residue.Whole!.MassPercent!.Value.Value, -5, 5));

    // Films hold only the sum of both: with a third of one canal over the other, from little to most of it is open. 80 and 21 % are read where 100 and 0 % are true.
    [Fact]
    public void What_is_left_is_less_certain_where_a_third_of_a_canal_lies_over_another()
    {
        var over = Compared(apart: 40, leftInFirst: 1, apartAtEnd: 6);

        Assert.All(over, residue => Assert.InRange(residue.OverlapShare, 0.2, 0.4));
        Assert.True(Mass(over[0]).Contains(100) && Mass(over[1]).Contains(0));
        Assert.All(Compared(apart: 40, leftInFirst: 1), residue => Assert.InRange(Mass(residue).Width, 5, 20));

        static Interval Mass(BranchResidue residue) => residue.Whole!.MassPercent!.Value.Interval;
    }

    private static BranchResidue[] Compared(double apart, double leftInFirst, double? apartAtEnd = null)
    {
        var (first, second) = (Line(220, 220), Line(220 + apart, 220 + (apartAtEnd ?? apart)));
        var before = Film((first, 1), (second, 1));
        var after = Film((first, leftInFirst), (second, 0));
        var request = new ComparisonRequest(
            before,
            after,
            Calibration.From(0.03, CalibrationSource.Entered).Value,
            null,
            [RodFilm.Marks("MB", first), RodFilm.Marks("ML", second)],
            AfterState.Removed,
            new Dictionary<string, AfterState>(),
            []);
        return [.. FilmComparer.Compare(request).Value.Branches];
    }

    private static CanalPath Line(double x, double xAtEnd) => new([new PixelPoint(x, 60), new PixelPoint(xAtEnd, 440)]);

    // A root of even dentine with bone on both sides, whose pattern lets the films find each other; a canal holds filling, or is empty.
    private static Radiograph Film(params (CanalPath Line, double Left)[] canals)
    {
        var shadow = new BlurredCylinder.Rod(RadiusPixels, BlurPixels);
        var pixels = new ushort[Width * Height];
        var noise = new Random(canals.Sum(canal => (int)(10 * canal.Left)) + 7);
        for (var y = 0; y < Height; y++)
        {
            for (var x = 0; x < Width; x++)
            {
                double inRoot = 1 / (1 + Math.Exp((Math.Abs(x - 233) - 90) / 3.0));
                var bone = 9000 + (1800 * (Math.Sin(x / 9.0 + Math.Sin(y / 17.0)) + Math.Sin((y / 11.0) + Math.Cos(x / 23.0))));
                var dentine = 20_000 + (300 * (Math.Sin(x / 13.0 + (y / 31.0)) + Math.Sin(y / 19.0)));
                var grey = (inRoot * dentine) + ((1 - inRoot) * bone) + (60 * (noise.NextDouble() - 0.5));
                foreach (var (line, left) in canals)
                {
                    if (y >= 70 && y <= 420)
                    {
                        grey += ((left * Filling) + ((1 - left) * Empty)) * shadow.Thickness(x - line.At(y - 60).X);
                    }
                }

                pixels[(y * Width) + x] = (ushort)Math.Clamp(grey, 0, 65535);
            }
        }

        return new Radiograph(Width, Height, pixels, 65535, FilmFormat.Simulated, new string('0', 64));
    }
}
