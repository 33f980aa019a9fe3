using System.Text.Json;
using Json.Schema;
using Secondpass.Job.Documents;

namespace Secondpass.Tests.Commands;

public sealed class TogetherCommandTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory().FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Two_answers_of_compare_are_read_together_as_a_table()
    {
        var called = CalledProgram.With("together", Written("straight.json", 30, 50), Written("turned.json", 12, 6));

        Assert.Equal(0, called.ExitCode);
        Assert.Contains("canal  left", called.Output, StringComparison.Ordinal);
        Assert.Matches("P +12 % ", called.Output);
        Assert.Contains("read together by mass", called.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_answer_for_a_machine_is_of_the_shape_that_its_schema_describes()
    {
        var called = CalledProgram.With("together", Written("straight.json", 30, 50), Written("turned.json", 12, 6), "--json");

        var schema = JsonSchema.FromText(DocumentSchema.Of("together"));
        Assert.True(schema.Evaluate(JsonDocument.Parse(called.Output).RootElement).IsValid);
    }

    [Fact]
    public void A_file_that_is_no_answer_of_compare_is_refused_with_its_place()
    {
        var broken = Path.Combine(folder, "broken.json");
        File.WriteAllText(broken, """{ "schema": 1, "canels": [] }""");

        var called = CalledProgram.With("together", Written("straight.json", 30, 50), broken);

        Assert.Equal(2, called.ExitCode);
        Assert.Contains("“canels” is not known here", called.Error, StringComparison.Ordinal);
        Assert.Contains("Did you mean “canals”?", called.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mass_that_was_changed_by_hand_is_refused_with_its_value()
    {
        var path = Written("straight.json", 30, 5);
        File.WriteAllText(path, File.ReadAllText(path).Replace("\"mass_percent\":30", "\"mass_percent\":77", StringComparison.Ordinal));

        var called = CalledProgram.With("together", path, Written("turned.json", 12, 6));

        Assert.Equal(2, called.ExitCode);
        Assert.Contains("77 % of P", called.Error, StringComparison.Ordinal);
    }

    private string Written(string name, double mass, double half)
    {
        var path = Path.Combine(folder, name);
        File.WriteAllBytes(path, DocumentJson.Write(new CompareDocument(
            1,
            new RegistrationDocument(true, null, null, [1, 0, 0, 0, 1, 0, 0, 0, 1], 0.5),
            [new ComparedCanalDocument("P", "ok", null, null, null, mass, [mass - half, mass + half], new ThirdsDocument(null, null, null), [], null, 0)],
            [])));
        return path;
    }
}
