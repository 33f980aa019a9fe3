using System.Text.Json;
using System.Text.RegularExpressions;
using Secondpass.Domain.Anatomy;
using Secondpass.Job.Documents;
using Secondpass.Phantoms.Demo;

namespace Secondpass.Tests.Phantoms;

/// <summary>The demonstration's films, written once for all tests here.</summary>
public sealed class WrittenDemo : IDisposable
{
    public WrittenDemo() => Cases = DemoFilms.WriteTo(Folder);

    public string Folder { get; } = Directory.CreateTempSubdirectory("secondpass-demo-").FullName;

    public IReadOnlyList<string> Cases { get; }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}

public sealed partial class DemoFilmsTests(WrittenDemo demo) : IClassFixture<WrittenDemo>
{
    private static readonly JsonSerializerOptions SnakeCase = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower };

    [Fact]
    public void Every_demo_case_has_two_films_and_a_case_file_that_fits_them()
    {
        Assert.True(demo.Cases.Count >= 6);
        Assert.All(demo.Cases, into =>
        {
            var document = JsonSerializer.Deserialize<CaseDocument>(
                File.ReadAllText(Path.Combine(into, "case.json")),
                SnakeCase)!;
            Assert.Equal(1, document.Schema);
            Assert.True(ToothNumber.Parse(document.Tooth).IsGiven);
            Assert.InRange(document.PixelSpacingMm!.Value, 0.027, 0.03);
            Assert.Contains(document.AfterState, new[] { "removed", "instrument_in", "dressing", "refilled" });
            Assert.NotEmpty(document.Canals);
            foreach (var film in Films(into))
            {
                var header = File.ReadAllBytes(Path.Combine(into, film)).AsSpan(16, 9);
                Assert.Equal([0, 0, 0x02, 0xBC, 0, 0, 0x03, 0xE8], header[..8].ToArray());
                Assert.Equal(into.EndsWith("none-visible", StringComparison.Ordinal) || IsOfClinic(into) ? 8 : 16, header[8]);
            }

            Assert.All(document.Canals.SelectMany(canal => (canal.Branches ?? []).Prepend(canal)), canal =>
            {
                Assert.InRange(canal.TracePx.Count, 2, 4);
                Assert.All(canal.TracePx, mark => Assert.True(mark is [> 10 and < 690, > 10 and < 990]));
            });
        });
    }

    [Fact]
    public void The_demo_shows_what_its_stories_say()
    {
        JsonElement Canal(string folder, string name) => JsonDocument.Parse(File.ReadAllText(Path.Combine(demo.Folder, folder, "truth.json")))
            .RootElement.GetProperty("canals").EnumerateArray().Single(canal => canal.GetProperty("name").GetString() == name);
        double? Third(JsonElement canal, string third) => canal.GetProperty("thirds_mass_percent").GetProperty(third) is { ValueKind: JsonValueKind.Number } value ? value.GetDouble() : null;

        var missed = Canal("upper-molar-missed-canal", "MB2");
        var residue = Canal("upper-molar-missed-canal", "MB1");
        Assert.False(missed.GetProperty("filled_before").GetBoolean());
        Assert.Equal((0.0, true), (Third(residue, "coronal"), Third(residue, "apical") > 20));
        Assert.Null(Third(Canal("lower-molar-split-distal-canal", "DL"), "coronal"));
        Assert.True(Third(Canal("lower-molar-split-distal-canal", "DL"), "apical") > 50);
        Assert.Equal(0, Canal("upper-incisor-none-visible", "C").GetProperty("mass_percent").GetDouble());
        Assert.InRange(Canal("lower-premolar-beyond-the-end", "C").GetProperty("fill_end_mm").GetDouble(), -1.5, -1.0);
        Assert.InRange(Canal("clinic/short-with-a-ledge", "C").GetProperty("fill_end_mm").GetDouble(), 3.9, 4.1);
        Assert.Null(Third(Canal("clinic/distal-root-splits-at-its-tip", "DL"), "middle"));
    }

    // The films in the folder demo are copies of what the program writes. Another processor may round a pixel over an edge:
    // percentages may differ by 0.2, words not at all.
    [Fact]
    public void The_films_kept_in_the_repository_are_those_the_program_writes_today()
    {
        var kept = Kept();
        foreach (var into in demo.Cases)
        {
            string Now(string file) => File.ReadAllText(Path.Combine(into, file)).ReplaceLineEndings("\n");
            string Then(string file) => File.ReadAllText(Path.Combine(kept, Path.GetRelativePath(demo.Folder, into), file)).ReplaceLineEndings("\n");

            Assert.Equal(Now("case.json"), Then("case.json"));
            Assert.Equal(Number().Replace(Now("truth.json"), "#"), Number().Replace(Then("truth.json"), "#"));
            Assert.All(Numbers(Now("truth.json")).Zip(Numbers(Then("truth.json"))), pair => Assert.Equal(pair.First, pair.Second, 0.2));
            Assert.All(Films(into), film => Assert.True(File.Exists(Path.Combine(kept, Path.GetRelativePath(demo.Folder, into), film))));
        }
    }

    // Those of the clinic's own cases that the workbench's examples don't have: treatment has not begun.
    private static bool IsOfClinic(string into) => Path.GetFileName(Path.GetDirectoryName(into)) == "clinic";

    private static string[] Films(string into) => IsOfClinic(into) ? ["before.png"] : ["before.png", "after.png"];

    private static IEnumerable<double> Numbers(string text) =>
        Number().Matches(text).Select(match => double.Parse(match.Value, CultureInfo.InvariantCulture));

    [GeneratedRegex(@"-?\d+(\.\d+)?")]
    private static partial Regex Number();

    private static string Kept()
    {
        var at = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(at!.FullName, "Secondpass.slnx")))
        {
            at = at.Parent;
        }

        return Path.Combine(at.FullName, "demo");
    }
}
