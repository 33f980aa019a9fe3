using System.Buffers.Binary;
using Secondpass.Job.Documents;

namespace Secondpass.Outside;

public sealed class SecondGeneratorTests(SecondGeneratorTests.Pairs pairs) : IClassFixture<SecondGeneratorTests.Pairs>
{
    [Fact]
    public void Makes_the_same_files_from_the_same_seed_alone_or_in_a_row()
    {
        foreach (var file in Directory.EnumerateFiles(pairs.Molar.Folder))
        {
            Assert.Equal(File.ReadAllBytes(file), File.ReadAllBytes(Path.Combine(pairs.MolarAgain.Folder, Path.GetFileName(file))));
        }

        Assert.Equal(4, Directory.GetFiles(pairs.MolarAgain.Folder).Length);
    }

    [Fact]
    public void Every_mark_lies_on_the_film_and_near_the_canal_it_marks()
    {
        foreach (var pair in pairs.All)
        {
            var (width, height) = SizeOf(pair.BeforeFile);
            var marked = pair.Case.Canals.SelectMany(SelfAndBelow).ToList();
            Assert.Equal(pair.Truth.Canals.Select(branch => branch.Name).Order(), marked.Select(branch => branch.Name).Order());
            foreach (var branch in marked)
            {
                Assert.InRange(branch.TracePx.Count, 2, 4);
                var line = pair.Truth.Canals.Single(truth => truth.Name == branch.Name).CentreLinePx;
                foreach (var mark in branch.TracePx)
                {
                    Assert.InRange(mark[0], 0, width - 1);
                    Assert.InRange(mark[1], 0, height - 1);

                    // 3 px of click, and half the way between two points of the centre line as written.
                    Assert.True(line.Min(point => double.Hypot(point[0] - mark[0], point[1] - mark[1])) < 3 + 5, $"A mark of {branch.Name} is off its canal.");
                }
            }
        }
    }

    [Fact]
    public void Thirds_weighted_by_their_filling_make_up_the_whole()
    {
        foreach (var branch in pairs.All.SelectMany(pair => pair.Truth.Canals))
        {
            var whole = branch.Residual!;
            var thirds = branch.Thirds.Filled.ToList();
            Assert.Equal(whole.MassBeforeMm3, thirds.Sum(third => third.MassBeforeMm3), 1e-9);
            Assert.Equal(whole.MassPercent, thirds.Sum(third => third.MassPercent * third.MassBeforeMm3) / whole.MassBeforeMm3, 1e-9);
            Assert.Equal(whole.AreaPercent, thirds.Sum(third => third.AreaPercent * third.AreaBeforeMm2) / whole.AreaBeforeMm2, 1e-9);
        }
    }

    [Fact]
    public void A_clean_pair_has_nothing_left_and_an_untouched_one_everything()
    {
        Assert.All(pairs.Clean.Truth.Canals, branch => Assert.Equal(0, branch.Residual!.MassPercent + branch.Residual.AreaPercent));
        Assert.All(pairs.Untouched.Truth.Canals, branch => Assert.Equal(100, branch.Residual!.MassPercent));

        // Of an untouched filling only the rim, thinner than 0.10 mm along the ray, does not count as residue.
        Assert.All(pairs.Untouched.Truth.Canals, branch => Assert.InRange(branch.Residual!.AreaPercent, 60, 100));
        Assert.All(pairs.Untouched.Truth.Canals, branch => Assert.Equal(100.0, branch.Residual!.AreaPercentOfThick));
    }

    private static IEnumerable<CanalDocument> SelfAndBelow(CanalDocument canal) =>
        (canal.Branches ?? []).SelectMany(SelfAndBelow).Prepend(canal);

    // Width and height stand at bytes 16 and 20 of a PNG file (PNG specification, third edition, 11.2.1).
    private static (int Width, int Height) SizeOf(string pngFile)
    {
        var bytes = File.ReadAllBytes(pngFile);
        return (BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(16)), BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(20)));
    }

    public sealed class Pairs : IDisposable
    {
        private readonly string folder = Directory.CreateTempSubdirectory("second-generator").FullName;

        public Pairs()
        {
            var row = SecondGenerator.MakeMany(11, 2, Path.Combine(folder, "row"), "--tooth", "36", "--split", "--format", "png8");
            Molar = row[1];
            MolarAgain = SecondGenerator.Make(12, Path.Combine(folder, "again"), "--tooth", "36", "--split", "--format", "png8");
            Clean = SecondGenerator.Make(13, Path.Combine(folder, "clean"), "--tooth", "11", "--clean", "--format", "png16");
            Untouched = SecondGenerator.Make(14, Path.Combine(folder, "untouched"), "--tooth", "24", "--untouched", "--format", "png8");
            All = [.. row, Clean, Untouched];
        }

        internal SimulatedPair Molar { get; }

        internal SimulatedPair MolarAgain { get; }

        internal SimulatedPair Clean { get; }

        internal SimulatedPair Untouched { get; }

        internal IReadOnlyList<SimulatedPair> All { get; }

        public void Dispose() => Directory.Delete(folder, recursive: true);
    }
}
