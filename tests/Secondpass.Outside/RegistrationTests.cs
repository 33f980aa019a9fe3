using System.Text.Json;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Compare;
using Secondpass.Radiographs.Read;

namespace Secondpass.Outside;

/// <summary>
/// Registration of a film that OpenCV or scikit-image warped by a known matrix, and against OpenCV's own registration by
/// ECC (Evangelidis and Psarakis, IEEE Trans Pattern Anal Mach Intell 2008;30:1858–1865) of the same two files.
/// </summary>
public sealed class RegistrationTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("secondpass-registration-").FullName;

    [Theory]
    [InlineData("cv2", 3.0, 1.02, 18, -25)]
    [InlineData("skimage", -8.0, 0.95, -30, 40)]
    public void Finds_the_matrix_that_another_library_warped_the_film_by(string library, double degrees, double factor, double dx, double dy)
    {
        var (pair, warped, afterToBefore) = Warped(library, degrees, factor, dx, dy);

        var found = FilmComparer.Compare(Request(pair, warped)).Value;

        // Half a pixel: interpolation on both sides, and a global map that is improved along each canal afterwards.
        foreach (var (x, y) in new[] { (300.0, 400.0), (450.0, 650.0), (600.0, 900.0) })
        {
            Assert.InRange(Distance(found.Registration.AfterToBefore, afterToBefore, x, y), 0, 0.6);
        }

        var canal = found.Branches[0];
        Assert.All(canal.Displacements, moved =>
        {
            var place = canal.Branch.Path.At(moved.LevelPixels);
            var back = Apply(afterToBefore, place.X + moved.Dx, place.Y + moved.Dy);
            Assert.InRange(back.DistanceTo(place), 0, 0.6);
        });
        Assert.InRange(canal.Whole!.MassPercent!.Value.Value, 96, 104);
    }

    [Fact]
    public void Agrees_with_the_reference_library_s_own_registration()
    {
        var (pair, warped, _) = Warped("skimage", 2.0, 1.0, 9, -6);

        var reference = JsonDocument.Parse(PythonRunner.Run("ecc_registration.py", "--reference", Path.Combine(folder, "before.png"), "--moved", Path.Combine(folder, "after.png"))).RootElement
            .GetProperty("ecc").GetProperty("matrix").EnumerateArray().Select(number => number.GetDouble()).ToArray();
        var found = FilmComparer.Compare(Request(pair, warped)).Value.Registration.AfterToBefore;

        foreach (var (x, y) in new[] { (300.0, 400.0), (450.0, 650.0), (600.0, 900.0) })
        {
            Assert.InRange(Distance(found, reference, x, y), 0, 0.6);
        }
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private static ComparisonRequest Request(PhantomPair pair, Radiograph after) => new(
        pair.Before.Radiograph,
        after,
        Calibration.From(pair.Before.Geometry.PixelSizeAtTooth, CalibrationSource.Entered).Value,
        null,
        pair.Clicks(1),
        AfterState.Removed,
        new Dictionary<string, AfterState>(),
        []);

    private (PhantomPair Pair, Radiograph Warped, double[] AfterToBefore) Warped(string library, double degrees, double factor, double dx, double dy)
    {
        var pair = PhantomPair.Make(901, new PairOptions { Kind = Phantoms.Anatomy.ToothKind.LowerMolar, Untouched = true, Change = PairChange.None });
        var radians = degrees * Math.PI / 180;
        var (c, s) = (factor * Math.Cos(radians), factor * Math.Sin(radians));
        double[] beforeToAfter = [c, -s, 450 + dx - (c * 450) + (s * 650), s, c, 650 + dy - (s * 450) - (c * 650), 0, 0, 1];
        var (before, after) = (Path.Combine(folder, "before.png"), Path.Combine(folder, "after.png"));
        File.WriteAllBytes(before, PngWriter.Write(pair.Before.Radiograph));
        PythonRunner.Run("warp_film.py", ["--in", before, "--out", after, "--library", library, "--matrix", .. beforeToAfter.Select(number => number.ToString("R", CultureInfo.InvariantCulture))]);
        var determinant = (c * c) + (s * s);
        double[] back =
        [
            c / determinant, s / determinant, -((c * beforeToAfter[2]) + (s * beforeToAfter[5])) / determinant,
            -s / determinant, c / determinant, ((s * beforeToAfter[2]) - (c * beforeToAfter[5])) / determinant,
            0, 0, 1,
        ];
        return (pair, FilmReader.Read(File.ReadAllBytes(after)).Value, back);
    }

    private static PixelPoint Apply(IReadOnlyList<double> matrix, double x, double y) =>
        new((matrix[0] * x) + (matrix[1] * y) + matrix[2], (matrix[3] * x) + (matrix[4] * y) + matrix[5]);

    private static double Distance(IReadOnlyList<double> one, IReadOnlyList<double> other, double x, double y) =>
        Apply(one, x, y).DistanceTo(Apply(other, x, y));
}
