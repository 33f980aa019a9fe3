using System.Text.Json;
using Json.Schema;
using Secondpass.Job.Documents;

namespace Secondpass.Tests.Commands;

public sealed class PlanCommandTests(SimulatedCase films) : IClassFixture<SimulatedCase>
{
    private const string Marks = "\"trace_px\":[[310,420],[300,980]]";

    [Fact]
    public void Answers_one_valid_JSON_document_with_widths_off_the_film()
    {
        var called = CalledProgram.With("plan", "--case", films.At("case.json"), "--film", films.At("before.png"), "--json");

        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        using var document = JsonDocument.Parse(called.Output);
        Assert.True(Schema().Evaluate(document.RootElement).IsValid);
        var trunk = films.Case.Canals[0].Name;
        var steps = document.RootElement.GetProperty("steps").EnumerateArray().Where(step => step.GetProperty("branch").GetString() == trunk).ToList();
        Assert.Equal(["coronal", "bulk", "bulk", "bulk", "walls"], steps.Select(step => step.GetProperty("phase").GetString()));
        var six = steps.Single(step => step.GetProperty("kind").GetString() == "retreatment-30-06");
        Assert.Equal((400, 1), (six.GetProperty("rpm").GetDouble(), six.GetProperty("torque_ncm").GetDouble()));
        Assert.True(six.GetProperty("stop_from_end_mm").GetDouble() >= 2);
        Assert.Equal(JsonValueKind.Null, six.GetProperty("stop_from_reference_mm").ValueKind);
        Assert.InRange(six.GetProperty("loss_per_side_mm").GetDouble(), 0, 0.2);
        Assert.Equal(JsonValueKind.Null, six.GetProperty("minutes").ValueKind);
    }

    // The incisor's filling is known: what an instrument takes of it is at most what is there, and all of it where the instrument is wider.
    [Fact]
    public void Walls_on_the_film_lie_between_the_filling_and_the_roots_outline()
    {
        var called = CalledProgram.With("plan", "--case", films.At("case.json"), "--film", films.At("before.png"), "--json");
        using var document = JsonDocument.Parse(called.Output);
        var branch = films.Pair.Truth.Branches[0].OnBefore;

        Assert.All(
            document.RootElement.GetProperty("steps").EnumerateArray().Where(step => step.GetProperty("wall_left_mm").ValueKind == JsonValueKind.Number),
            step => Assert.InRange(step.GetProperty("wall_left_mm").GetDouble(), 0.2, 4));
        Assert.Contains(document.RootElement.GetProperty("assumptions").EnumerateArray(), said => said.GetString()!.StartsWith($"{branch.Canal.Name}: thinnest wall measured on the film: ", StringComparison.Ordinal));
    }

    [Fact]
    public void Without_a_film_it_plans_from_what_is_typed_and_says_what_is_not_measured()
    {
        var path = Write("typed.json", $$"""
            {"schema":1,"tooth":"16","filling":"gutta_percha","post":"cast post","canals":[
             {"name":"MB1","root":"MB",{{Marks}},"fill_end_mm":1,
              "lengths":[{"from":"mesiobuccal cusp","to":"radiographic_apex","mm":20.5,"source":"film"}],
              "filling_width":[[0,0.3,0.25,0.35],[14,0.86,0.8,0.9]],"walls":[{"from_end_mm":8,"side":"distal","mm":1.2}]},
             {"name":"DB",{{Marks}},"intent":"leave_alone"},
             {"name":"P",{{Marks}},"obstacles":["ledge"],"lengths":[{"from":"palatal cusp","to":"foramen","mm":21,"source":"length_meter"},{"from":"palatal cusp","to":"file_stop","mm":17,"source":"instrument_stop"}]}]}
            """);

        var called = CalledProgram.With("plan", "--case", path, "--json");

        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        using var document = JsonDocument.Parse(called.Output);
        Assert.True(Schema().Evaluate(document.RootElement).IsValid);
        var steps = document.RootElement.GetProperty("steps").EnumerateArray().ToList();
        Assert.Equal((6.5, 1.2, 20.5), (Minutes(steps[0], "mean"), Minutes(steps[0], "lo"), Minutes(steps[0], "hi")));
        var six = Step(steps, "MB1", "retreatment-30-06");

        // 0.30 + 0.06·(14 − 2) = 1.02 against 0.86 mm: 0.08 a side; at 8 mm 0.66 against 0.62: 0.02 of 1.2 mm.
        Assert.Equal((18.5, 2.0, 0.08, 1.18), (Number(six, "stop_from_reference_mm"), Number(six, "stop_from_end_mm"), Number(six, "loss_per_side_mm"), Number(six, "wall_left_mm")));
        Assert.Equal(16, Number(Step(steps, "P", "retreatment-30-06"), "stop_from_reference_mm"));
        Assert.DoesNotContain(steps, step => step.GetProperty("branch").GetString() == "DB");
        Assert.Contains("P: wall not measured.", document.RootElement.GetProperty("assumptions").EnumerateArray().Select(said => said.GetString()));

        static double Minutes(JsonElement step, string end) => step.GetProperty("minutes").GetProperty(end).GetDouble();
    }

    [Fact]
    public void The_text_for_reading_has_every_step_and_what_it_rests_on()
    {
        var called = CalledProgram.With("plan", "--case", films.At("case.json"));

        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        Assert.StartsWith("Tooth 11, upper right central incisor. Sequence: Ultrasonic first, then .06 and .04\n\n1. ", called.Output, StringComparison.Ordinal);
        Assert.Contains("! 400 rpm is outside the maker's 150–300 rpm for retreatment rotary 30/.06, by 100 rpm above.\n", called.Output, StringComparison.Ordinal);
        Assert.EndsWith("- Follow the makers' instructions, local rules and licensed practice.\n", called.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_clinics_own_sequence_stock_and_unit_are_taken()
    {
        var path = Write("clinic.json", $$$"""
            {"schema":1,"canals":[{"name":"P",{{{Marks}}}}],"clinic":{
             "items":[{"id":"a","kind":"retreatment-30-06","position":"kit A, 3","uses":2},{"id":"b","kind":"retreatment-30-04","uses":5}],
             "ultrasonic_unit":{"name":"Surgery 1","thread":"M3 × 0.5"},
             "sequences":[{"name":"Mine","steps":[{"kind":"ultrasonic-30"},{"kind":"retreatment-30-06","rpm":300,"torque_ncm":1},{"kind":"retreatment-30-04","rpm":300,"torque_ncm":1}]}]}}
            """);

        var called = CalledProgram.With("plan", "--case", path, "--sequence", "mine", "--json");

        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        using var document = JsonDocument.Parse(called.Output);
        var steps = document.RootElement.GetProperty("steps").EnumerateArray().ToList();
        Assert.Equal(["heated-plugger", "retreatment-30-06", "retreatment-30-04"], steps.Select(step => step.GetProperty("kind").GetString()));
        Assert.Equal(("a", "use 3 of 5"), (steps[1].GetProperty("item").GetString(), steps[1].GetProperty("use").GetString()));
        Assert.Equal(
            [
                "ultrasonic file 30/.02 needs “file chuck”; ultrasonic unit Surgery 1 takes thread M3 × 0.5, no chuck. It is left out.",
                "No retreatment rotary 30/.04 with uses left (loose b: 5 of 5 uses).",
            ],
            document.RootElement.GetProperty("refusals").EnumerateArray().Select(refusal => refusal.GetProperty("reason").GetString()));
    }

    [Theory]
    [InlineData("per_tooth_and_visit", "use 2 of 5")]
    [InlineData("per_canal", "use 2 of 5")]
    [InlineData("single_use", null)]
    public void Uses_are_counted_as_the_case_file_says(string count, string? use)
    {
        var path = Write("count.json", $$$"""
            {"schema":1,"canals":[{"name":"P",{{{Marks}}}}],"clinic":{"use_count":"{{{count}}}","items":[{"id":"a","kind":"retreatment-30-06","uses":1}]}}
            """);

        var called = CalledProgram.With("plan", "--case", path, "--json");

        Assert.Equal((0, string.Empty), (called.ExitCode, called.Error));
        using var document = JsonDocument.Parse(called.Output);
        var step = document.RootElement.GetProperty("steps").EnumerateArray().Single(one => one.GetProperty("kind").GetString() == "retreatment-30-06");
        Assert.Equal(use, step.GetProperty("use").GetString());
        Assert.Equal(use is null, document.RootElement.GetProperty("refusals").EnumerateArray().Any(refusal => refusal.GetProperty("reason").GetString() == "No retreatment rotary 30/.06 with uses left (loose a: 1 of 1 uses)."));
    }

    [Fact]
    public void A_sequence_that_is_not_known_is_wrong_use_and_names_those_that_are()
    {
        var called = CalledProgram.With("plan", "--case", films.At("case.json"), "--sequence", "Fast one");

        Assert.Equal((2, string.Empty), (called.ExitCode, called.Output));
        Assert.Equal("secondpass: --sequence: “Fast one” is not a sequence that is known here.\nKnown: “Ultrasonic first, then .06 and .04”.\n", called.Error);
    }

    [Theory]
    [InlineData("""{"schema":1,"canals":[{"name":"P",MARKS,"no_deeper_than_mm":25,"lengths":[{"from":"palatal cusp","to":"foramen","mm":21,"source":"length_meter"}]}]}""",
        "The stop at 25 mm lies beyond the end of P, which is 21 mm from the palatal cusp to the foramen.\nCorrect the depth, or read the length again: an instrument beyond the end does harm.\n")]
    [InlineData("""{"schema":1,"canals":[{"name":"P",MARKS,"lengths":[{"from":"palatal cusp","to":"foramen","mm":210,"source":"length_meter"}]}]}""",
        "Line 1, column 122, canals[0].lengths[0].mm: 210 mm can't be; 0.5 to 40 mm are expected.\nCheck the value and its unit.\n")]
    [InlineData("""{"schema":1,"canals":[{"name":"P",MARKS}],"clinic":{"items":[{"id":"a","kind":"retreatment-30-07","uses":1}]}}""",
        "Line 1, column 106, clinic.items[0].kind: “retreatment-30-07” is not a kind of instrument that is known here.\nDid you mean “retreatment-30-08”? ")]
    [InlineData("""{"schema":1,"canals":[{"name":"P",MARKS,"obstacles":["ledge","ledger"]}]}""",
        "Line 1, column 89, canals[0].obstacles[1]: “ledger” is not a word known here; expected ledge, separated_instrument, blockage, perforation, post.\nDid you mean “ledge”? ")]
    [InlineData("""{"schema":1,"resin_follows":"yes","canals":[{"name":"P",MARKS}]}""",
        "Line 1, column 29, resin_follows: the text “yes” stands where true or false is expected.\n")]
    [InlineData("""{"schema":1,"canals":[{"name":"P",MARKS,"final_taper":0.04}]}""",
        "Line 1, column 82, canals[0].final_taper: a final taper stands without a final size.\nGive final_size too.\n")]
    public void What_cannot_be_is_wrong_use_and_quotes_the_value(string text, string said)
    {
        var path = Write("wrong.json", text.Replace("MARKS", Marks, StringComparison.Ordinal));

        var called = CalledProgram.With("plan", "--case", path, "--json");

        Assert.Equal((2, string.Empty), (called.ExitCode, called.Output));
        Assert.StartsWith($"secondpass: {path}: {said}", called.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_to_remove_is_a_refusal_on_standard_output()
    {
        var called = CalledProgram.With("plan", "--case", Write("none.json", $$"""{"schema":1,"canals":[{"name":"P",{{Marks}},"filled":"unfilled"}]}"""), "--json");

        Assert.Equal((1, string.Empty), (called.ExitCode, called.Error));
        Assert.Equal("nothing_to_remove", JsonDocument.Parse(called.Output).RootElement.GetProperty("refusal").GetProperty("code").GetString());
    }

    [Fact]
    public void Gives_the_same_answer_on_a_machine_that_writes_decimal_commas()
    {
        var commas = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        commas.NumberFormat.NumberDecimalSeparator = ",";
        string[] call = ["plan", "--case", films.At("case.json"), "--film", films.At("before.png")];
        var (json, text) = (CalledProgram.With([.. call, "--json"]), CalledProgram.With(call));
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = commas;
            Assert.Equal(json, CalledProgram.With([.. call, "--json"]));
            Assert.Equal(text, CalledProgram.With(call));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private string Write(string name, string text)
    {
        File.WriteAllText(films.At(name), text);
        return films.At(name);
    }

    private static JsonElement Step(IEnumerable<JsonElement> steps, string branch, string kind) =>
        steps.Single(step => step.GetProperty("branch").GetString() == branch && step.GetProperty("kind").GetString() == kind);

    private static double Number(JsonElement step, string name) => step.GetProperty(name).GetDouble();

    private static JsonSchema Schema() =>
        JsonSchema.FromText(DocumentSchema.Of("plan"), new BuildOptions { SchemaRegistry = new SchemaRegistry() });
}
