using System.Text.Json;
using Json.Schema;
using Secondpass.Job.Documents;

namespace Secondpass.Tests.Commands;

public sealed class MeasureCommandTests(SimulatedCase films) : IClassFixture<SimulatedCase>
{
    // Two clicks at the true ends: what may differ is how the path is smoothed between them.
    private const double LengthToleranceMillimetres = 0.5;

    private string Film => films.At("before.png");

    private string Case => films.At("case.json");

    [Fact]
    public void Answers_one_valid_JSON_document_that_finds_the_canals_length()
    {
        var called = CalledProgram.With("measure", "--film", Film, "--case", Case, "--json");

        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        using var document = JsonDocument.Parse(called.Output);
        Assert.True(Schema("measure").Evaluate(document.RootElement).IsValid);
        var truth = films.Pair.Truth.Branches[0].OnBefore;
        var canal = document.RootElement.GetProperty("canals")[0];
        Assert.Equal(truth.Canal.Name, canal.GetProperty("name").GetString());
        Assert.Equal(truth.LengthMillimetres, canal.GetProperty("length_mm").GetDouble(), LengthToleranceMillimetres);
    }

    [Fact]
    public void Answers_a_table_that_names_tooth_scale_and_every_canal()
    {
        var called = CalledProgram.With("measure", "--film", Film, "--case", Case);

        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        Assert.StartsWith("Tooth 11, upper right central incisor\nScale: ", called.Output, StringComparison.Ordinal);
        Assert.Contains("canal  length", called.Output, StringComparison.Ordinal);
        Assert.All(films.Case.Canals, canal => Assert.Contains($"\n{canal.Name} ", called.Output, StringComparison.Ordinal));
    }

    // The case file of a scan has no pixel size, but an object on the film whose length is known.
    [Fact]
    public void Takes_the_scale_from_a_known_length_of_the_case_file_and_says_so()
    {
        var pixel = films.Pair.Before.Geometry.PixelSizeAtTooth;
        var known = new KnownLengthDocument([100, 100, 100, 100 + (21 / pixel)], 21);
        var file = films.Write("known.json", films.Case with { PixelSpacingMm = null, KnownLength = known });
        var both = films.Write("both.json", films.Case with { PixelSpacingMm = 1.1 * pixel, KnownLength = known });

        var called = CalledProgram.With("measure", "--film", Film, "--case", file);
        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        Assert.Contains("mm per pixel, from a known length of 21 mm on the film, ±3.0 %", called.Output, StringComparison.Ordinal);

        using var json = JsonDocument.Parse(CalledProgram.With("measure", "--film", Film, "--case", file, "--json").Output);
        var canal = json.RootElement.GetProperty("canals")[0];
        Assert.Equal(films.Pair.Truth.Branches[0].OnBefore.LengthMillimetres, canal.GetProperty("length_mm").GetDouble(), LengthToleranceMillimetres);
        Assert.Contains("holds where the object lies in the film's plane", json.RootElement.GetProperty("notices").GetRawText(), StringComparison.Ordinal);

        using var beaten = JsonDocument.Parse(CalledProgram.With("measure", "--film", Film, "--case", both, "--json").Output);
        Assert.Contains("The entered scale of ", beaten.RootElement.GetProperty("notices").GetRawText(), StringComparison.Ordinal);
        Assert.Equal(1.1, beaten.RootElement.GetProperty("canals")[0].GetProperty("length_mm").GetDouble() / canal.GetProperty("length_mm").GetDouble(), 0.01);
    }

    [Fact]
    public void Writes_a_picture_beside_the_same_answer()
    {
        var picture = films.At("traced.png");
        File.WriteAllText(picture, "an older file");

        var called = CalledProgram.With("measure", "--film", Film, "--case", Case, "--json", "--picture", picture);

        Assert.Equal(0, called.ExitCode);
        Assert.Equal(CalledProgram.With("measure", "--film", Film, "--case", Case, "--json").Output, called.Output);
        Assert.Equal("\x89PNG\r\n\x1a\n"u8.ToArray()[2..], File.ReadAllBytes(picture)[1..8]);
        Assert.Empty(Directory.EnumerateFiles(films.Folder, "*.unfinished"));
    }

    [Fact]
    public void Gives_the_same_answer_on_a_machine_that_writes_decimal_commas()
    {
        var commas = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        commas.NumberFormat.NumberDecimalSeparator = ",";
        commas.NumberFormat.NumberGroupSeparator = ".";
        string[] call = ["measure", "--film", Film, "--case", Case];
        var (json, table) = (CalledProgram.With([.. call, "--json"]), CalledProgram.With(call));
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = commas;
            Assert.Equal(json, CalledProgram.With([.. call, "--json"]));
            Assert.Equal(table, CalledProgram.With(call));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void A_mark_outside_the_film_is_wrong_use_and_quotes_the_mark()
    {
        var canal = films.Case.Canals[0];
        var path = films.Write("outside.json", films.Case with { Canals = [canal with { TracePx = [[5000, 10], [300, 400]] }] });
        var film = films.Pair.Before.Radiograph;

        var called = CalledProgram.With("measure", "--film", Film, "--case", path, "--json");

        Assert.Equal(2, called.ExitCode);
        Assert.Empty(called.Output);
        Assert.Equal(
            string.Create(CultureInfo.InvariantCulture, $"secondpass: {path}: Mark 1 of {canal.Name}, [5000, 10], lies outside the film before, which has {film.Width} × {film.Height} pixels.\nGive marks in pixels of the film before: [0, 0] is the centre of its top left pixel, x runs right, y runs down.\n"),
            called.Error);
    }

    [Fact]
    public void A_file_that_is_no_film_is_wrong_use_and_names_the_file()
    {
        var called = CalledProgram.With("measure", "--film", Case, "--case", Case, "--json");

        Assert.Equal(2, called.ExitCode);
        Assert.Empty(called.Output);
        Assert.StartsWith($"secondpass: {Case}: This file is not a film that can be read", called.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_truncated_film_is_wrong_use_and_stays_as_it_is()
    {
        var path = films.At("cut.png");
        var cut = File.ReadAllBytes(Film)[..2000];
        File.WriteAllBytes(path, cut);

        var called = CalledProgram.With("measure", "--film", path, "--case", Case, "--json");

        Assert.Equal(2, called.ExitCode);
        Assert.StartsWith($"secondpass: {path}: This PNG file is damaged or incomplete", called.Error, StringComparison.Ordinal);
        Assert.Equal(cut, File.ReadAllBytes(path));
    }

    [Fact]
    public void A_folder_is_no_film() =>
        Assert.Equal(
            $"secondpass: {films.Folder}: this is a folder.\nGive the path of a file.\n",
            CalledProgram.With("measure", "--film", films.Folder, "--case", Case).Error);

    [Fact]
    public void A_picture_that_cannot_be_written_costs_the_picture_and_not_the_answer()
    {
        var picture = Path.Combine(films.Folder, "no such folder", "traced.png");

        var called = CalledProgram.With("measure", "--film", Film, "--case", Case, "--json", "--picture", picture);

        Assert.Equal(3, called.ExitCode);
        Assert.Equal($"secondpass: “{picture}” can't be written: the folder does not exist.\n", called.Error);
        using var document = JsonDocument.Parse(called.Output);
        Assert.Equal(1, document.RootElement.GetProperty("schema").GetInt32());
    }

    private static JsonSchema Schema(string name) =>
        JsonSchema.FromText(DocumentSchema.Of(name), new BuildOptions { SchemaRegistry = new SchemaRegistry() });
}
