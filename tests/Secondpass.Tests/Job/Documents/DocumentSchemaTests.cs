using System.Text;
using System.Text.Json;
using Json.Schema;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Job.Documents;

namespace Secondpass.Tests.Job.Documents;

public sealed class DocumentSchemaTests
{
    public static TheoryData<string> Names { get; } = [.. DocumentSchema.Names];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_schema_in_docs_is_the_one_that_the_program_gives(string name) =>
        Assert.True(
            Repository.Text("docs", "schema", $"{name}.schema.json") == DocumentSchema.Of(name),
            $"Write it again: ./secondpass describe schema {name} > docs/schema/{name}.schema.json");

    // JSON Schema draft 2020-12: its own meta-schema, as JsonSchema.Net carries it.
    [Theory]
    [MemberData(nameof(Names))]
    public void Each_schema_is_a_valid_schema(string name) =>
        Assert.True(MetaSchemas.Draft202012.Evaluate(JsonDocument.Parse(DocumentSchema.Of(name)).RootElement).IsValid);

    [Fact]
    public void What_the_commands_write_is_valid()
    {
        var scale = Calibration.From(0.03, CalibrationSource.Entered).Value;
        var branch = ResultDocumentTests.Branch("MB1");
        var residue = ResultDocumentTests.Residue(branch);
        var refusal = new Refusal("code", "Reason.", "Remedy.", new Dictionary<string, double> { ["distance_px"] = 3 });

        Assert.Empty(Wrong("measure", MeasureDocument.From([branch], scale, ["A notice."])));
        Assert.Empty(Wrong("measure", MeasureDocument.From([branch], null, [])));
        Assert.Empty(Wrong("compare", CompareDocument.From(ResultDocumentTests.Comparison(residue), scale, ["A notice."])));
        Assert.Empty(Wrong("compare", CompareDocument.From(ResultDocumentTests.Comparison(residue with { Refused = refusal, Whole = null }), null, [])));
        Assert.Empty(Wrong("compare", CompareDocument.Refused(refusal, [])));
        Assert.Empty(Wrong("refusal", RefusalDocument.From(refusal)));
    }

    [Theory]
    [InlineData("""{"schema":2,"tooth":"16","canals":[{"name":"P","trace_px":[[1,1],[5,90]]}]}""")]
    [InlineData("""{"schema":1,"tooth":"19","canals":[{"name":"P","trace_px":[[1,1],[5,90]]}]}""")]
    [InlineData("""{"schema":1,"tooth":"16","canals":[]}""")]
    [InlineData("""{"schema":1,"tooth":"16","canals":[{"name":"P","trace_px":[[1,1]]}]}""")]
    [InlineData("""{"schema":1,"tooth":"16","canals":[{"name":"P","trace_px":[[1,1,1],[5,90]]}]}""")]
    [InlineData("""{"schema":1,"tooth":"16","canals":[{"name":"P","trace_px":[[1,1],[5,90]],"pin":"strong"}]}""")]
    [InlineData("""{"schema":1,"tooth":"16","pixel_spacing_mm":3,"canals":[{"name":"P","trace_px":[[1,1],[5,90]]}]}""")]
    [InlineData("""{"schema":1,"tooth":"16","after_state":"empty","canals":[{"name":"P","trace_px":[[1,1],[5,90]]}]}""")]
    [InlineData("""{"schema":1,"tooth":"16","colour":"red","canals":[{"name":"P","trace_px":[[1,1],[5,90]]}]}""")]
    [InlineData("""{"schema":1,"tooth":"16","canals":[{"name":"P","trace_px":[[1,1],[5,90]],"branches":[{"name":"P2"}]}]}""")]
    [InlineData("""{"schema":1,"filling":"wax","canals":[{"name":"P","trace_px":[[1,1],[5,90]]}]}""")]
    [InlineData("""{"schema":1,"canals":[{"name":"P","trace_px":[[1,1],[5,90]],"obstacles":["wall"]}]}""")]
    [InlineData("""{"schema":1,"canals":[{"name":"P","trace_px":[[1,1],[5,90]],"lengths":[{"from":"cusp","to":"foramen","mm":20}]}]}""")]
    [InlineData("""{"schema":1,"canals":[{"name":"P","trace_px":[[1,1],[5,90]]}],"clinic":{"sequences":[{"name":"Mine","steps":[]}]}}""")]
    [InlineData("""{"schema":1,"resin_follows":1,"canals":[{"name":"P","trace_px":[[1,1],[5,90]]}]}""")]
    public void Schema_and_reader_refuse_the_same_cases(string text)
    {
        Assert.False(CaseReader.Read(Encoding.UTF8.GetBytes(text)).IsGiven);
        Assert.False(Evaluate("case", text).IsValid);
    }

    [Theory]
    [InlineData("""{"schema":1,"tooth":"16","canals":[{"name":"P","trace_px":[[1,1],[5,90]]}]}""")]
    [InlineData("""{"schema":1,"tooth":"75","pixel_spacing_mm":null,"after_spacing_mm":0.5,"after_state":"refilled","canals":[{"name":"P","trace_px":[[1,1],[5,90]],"pin":"hard","after_state":null,"branches":[{"name":"P2","trace_px":[[2,20],[9,80]],"branches":null}]}]}""")]
    [InlineData("""{"schema":1,"filling":"silver_point","resin_follows":true,"canals":[{"name":"P","trace_px":[[1,1],[5,90]],"obstacles":["ledge"],"meets":{"canal":"MB","joins":true},"final_size":30},{"name":"MB","trace_px":[[1,1],[5,90]],"intent":null}],"clinic":{"limits":{"attempts":2},"items":[{"id":"a","kind":"hand-10","uses":0}]}}""")]
    public void Schema_and_reader_take_the_same_cases(string text)
    {
        Assert.True(CaseReader.Read(Encoding.UTF8.GetBytes(text)).IsGiven);
        Assert.True(Evaluate("case", text).IsValid);
    }

    [Fact]
    public void Schema_and_reader_know_the_same_teeth()
    {
        for (var number = 0; number < 100; number++)
        {
            var tooth = number.ToString("00", CultureInfo.InvariantCulture);
            var text = $$"""{"schema":1,"tooth":"{{tooth}}","canals":[{"name":"P","trace_px":[[1,1],[5,90]]}]}""";
            Assert.Equal(ToothNumber.Parse(tooth).IsGiven, Evaluate("case", text).IsValid);
        }
    }

    private static IReadOnlyList<string> Wrong<T>(string name, T document)
    {
        var results = Evaluate(name, Encoding.UTF8.GetString(DocumentJson.Write(document)));
        return results.IsValid
            ? []
            : ["Not valid.", .. (results.Details ?? []).SelectMany(detail => (detail.Errors ?? []).Select(error => $"{detail.InstanceLocation}: {error.Key} {error.Value}"))];
    }

    private static EvaluationResults Evaluate(string name, string text)
    {
        var options = new BuildOptions { SchemaRegistry = new SchemaRegistry() };
        return JsonSchema.FromText(DocumentSchema.Of(name), options).Evaluate(JsonDocument.Parse(text).RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
    }
}
