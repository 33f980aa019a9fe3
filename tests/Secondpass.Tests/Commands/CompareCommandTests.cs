using System.Text;
using System.Text.Json;
using Json.Schema;
using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Phantoms.Imaging;

namespace Secondpass.Tests.Commands;

public sealed class CompareCommandTests(SimulatedCase films) : IClassFixture<SimulatedCase>
{
    private string Before => films.At("before.png");

    private string After => films.At("after.png");

    private string Case => films.At("case.json");

    [Fact]
    public void Answers_one_valid_JSON_document_the_same_as_the_stage_of_the_job_gives()
    {
        var called = CalledProgram.With("compare", "--before", Before, "--after", After, "--case", Case, "--json");

        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        using var document = JsonDocument.Parse(called.Output);
        Assert.True(Schema("compare").Evaluate(document.RootElement).IsValid);
        var compared = CompareFilms.Compare(
            OpenFilm.Open(File.ReadAllBytes(Before)).Value,
            OpenFilm.Open(File.ReadAllBytes(After)).Value,
            CaseReader.Read(File.ReadAllBytes(Case)).Value).Value;
        Assert.Equal(Encoding.UTF8.GetString(DocumentJson.Write(compared.Document)), called.Output);
    }

    [Fact]
    public void Answers_a_table_and_a_picture()
    {
        var picture = films.At("left.png");

        var called = CalledProgram.With("compare", "--before", Before, "--after", After, "--case", Case, "--picture", picture);

        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        Assert.StartsWith("Tooth 11, upper right central incisor\nScale: ", called.Output, StringComparison.Ordinal);
        Assert.Contains("smallest patch that shows", called.Output, StringComparison.Ordinal);
        Assert.Equal("PNG"u8.ToArray(), File.ReadAllBytes(picture)[1..4]);
    }

    [Fact]
    public void A_mirrored_film_is_refused_with_reason_and_remedy_as_JSON_whether_asked_for_or_not()
    {
        var film = films.Pair.After.Radiograph;
        var mirrored = film.Pixels.ToArray();
        for (var row = 0; row < film.Height; row++)
        {
            mirrored.AsSpan(row * film.Width, film.Width).Reverse();
        }

        var path = films.At("mirrored.png");
        File.WriteAllBytes(path, PngWriter.Write(film.Width, film.Height, mirrored, film.GreatestValue <= 255));

        var asked = CalledProgram.With("compare", "--before", Before, "--after", path, "--case", Case, "--json");
        var notAsked = CalledProgram.With("compare", "--before", Before, "--after", path, "--case", Case);

        Assert.Equal((1, 1), (asked.ExitCode, notAsked.ExitCode));
        Assert.Equal(asked.Output, notAsked.Output);
        Assert.Empty(asked.Error);
        using var document = JsonDocument.Parse(asked.Output);
        Assert.True(Schema("compare").Evaluate(document.RootElement).IsValid);
        var registration = document.RootElement.GetProperty("registration");
        Assert.False(registration.GetProperty("ok").GetBoolean());
        Assert.Equal($"{registration.GetProperty("reason").GetString()}\n{registration.GetProperty("remedy").GetString()}\n", notAsked.Error);
    }

    [Fact]
    public void Without_a_case_the_pair_is_refused_and_the_remedy_says_what_to_mark()
    {
        var called = CalledProgram.With("compare", "--before", Before, "--after", After, "--json");

        Assert.Equal(1, called.ExitCode);
        Assert.StartsWith("""{"schema":1,"registration":{"ok":false,"reason":"No canal is marked on the film before.","remedy":"Mark each canal""", called.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_case_that_does_not_say_what_stands_in_the_canals_is_wrong_use()
    {
        var path = films.Write("unsaid.json", films.Case with { AfterState = null });

        var called = CalledProgram.With("compare", "--before", Before, "--after", After, "--case", path, "--json");

        Assert.Equal(2, called.ExitCode);
        Assert.Equal($"secondpass: {path}: “after_state” does not say what stands in the canals on the film after.\nAdd \"after_state\": one of removed, instrument_in, dressing, refilled.\n", called.Error);
    }

    [Fact]
    public void A_canal_that_was_filled_again_has_no_result_and_says_why()
    {
        var path = films.Write("refilled.json", films.Case with { AfterState = "refilled" });

        var called = CalledProgram.With("compare", "--before", Before, "--after", After, "--case", path, "--json");

        Assert.Equal(0, called.ExitCode);
        using var document = JsonDocument.Parse(called.Output);
        var canal = document.RootElement.GetProperty("canals")[0];
        Assert.Equal("refused", canal.GetProperty("status").GetString());
        Assert.NotEmpty(canal.GetProperty("reason").GetString()!);
        Assert.Equal(JsonValueKind.Null, canal.GetProperty("mass_percent").ValueKind);
    }

    private static JsonSchema Schema(string name) =>
        JsonSchema.FromText(DocumentSchema.Of(name), new BuildOptions { SchemaRegistry = new SchemaRegistry() });
}
