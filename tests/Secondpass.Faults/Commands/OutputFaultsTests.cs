using System.Text.Json;
using Secondpass.Domain.Films;
using Secondpass.Job.Documents;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Faults.Commands;

/// <summary>The program as a process of its own, writing to a full disk and to nobody. /dev/full takes nothing, as a full disk does.</summary>
public sealed class OutputFaultsTests : IDisposable
{
    private const string DiskFull = "the disk is full.";

    private readonly string folder = Directory.CreateTempSubdirectory("secondpass faults ").FullName;

    public OutputFaultsTests()
    {
        var pair = PhantomPair.Make(11, new PairOptions { Kind = ToothKind.UpperIncisor, Change = PairChange.None });
        File.WriteAllBytes(Path.Combine(folder, "film.png"), PngWriter.Write(pair.Before.Radiograph));
        var canals = pair.Clicks().Select(clicks => new CanalDocument(clicks.Name, [.. clicks.Pins.Select(pin => new[] { pin.At.X, pin.At.Y })], null, null, null));
        File.WriteAllBytes(
            Path.Combine(folder, "case.json"),
            DocumentJson.Write(new CaseDocument(1, "11", pair.Before.Geometry.PixelSizeAtTooth, null, EnumWords.Of(AfterState.Removed), [.. canals])));
    }

    [Fact]
    public async Task A_disk_that_is_full_costs_the_picture_and_not_the_answer()
    {
        File.CreateSymbolicLink(Path.Combine(folder, "full.png"), "/dev/full");

        var ran = await Run("measure --film film.png --case case.json --json --picture full.png");

        Assert.Equal(3, ran.ExitCode);
        Assert.Equal($"secondpass: “full.png” can't be written: {DiskFull}\n", ran.Error);
        using var document = JsonDocument.Parse(ran.Output);
        Assert.NotEmpty(document.RootElement.GetProperty("canals").EnumerateArray());
    }

    [Fact]
    public async Task An_answer_that_finds_no_room_is_a_failure_in_one_line()
    {
        var ran = await Run("measure --film film.png --case case.json --json >/dev/full");

        Assert.Equal((3, $"secondpass: the answer can't be written to standard output: {DiskFull}\n"), (ran.ExitCode, ran.Error));
    }

    [Fact]
    public async Task A_reader_that_went_away_is_no_defect()
    {
        var ran = await Run("describe evidence | head -n 1");

        Assert.Equal("# Constants and their sources\n", ran.Output);
        Assert.DoesNotContain("fault of the program", ran.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_shows_the_inside_of_the_program_unless_it_is_asked_for()
    {
        var plain = await Run("describe guide >/dev/full");
        var asked = await Run("describe guide >/dev/full", new() { ["SECONDPASS_DETAILS"] = "1" });

        Assert.Single(plain.Error.TrimEnd('\n').Split('\n'));
        Assert.Contains("   at Secondpass.", asked.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("de_DE.UTF-8")]
    [InlineData("fr_FR.UTF-8")]
    public async Task A_machine_that_writes_decimal_commas_gives_the_same_answer(string language)
    {
        const string Call = "measure --film film.png --case case.json --json";
        var plain = await Run(Call);

        var there = await Ran.Bash(
            $"LC_ALL=$2 LANG=$2 exec dotnet \"$1\" {Call} 2>/dev/null",
            folder,
            [Path.Combine(AppContext.BaseDirectory, "Secondpass.App.dll"), language]);

        Assert.Equal(0, there.ExitCode);
        Assert.True(plain.Output == there.Output, "The answers differ.");
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private Task<Ran> Run(string call, Dictionary<string, string>? variables = null) => Ran.Bash(
        $"dotnet \"$1\" {call}",
        folder,
        [Path.Combine(AppContext.BaseDirectory, "Secondpass.App.dll")],
        variables: variables);
}
