using System.Text.Json;
using System.Text.RegularExpressions;
using Secondpass.App;
using Secondpass.App.Commands;

namespace Secondpass.Outside.Pdf;

/// <summary>The plan for the tray as poppler sees it, against the JSON that the same call gave.</summary>
public sealed class PlanSheetInPopplerTests
{
    private static readonly (JsonElement Json, byte[] Pdf) Made = Make();

    [Fact]
    public void Is_tagged_A5_with_a_title()
    {
        var info = Poppler.Run("pdfinfo", Made.Pdf, "{pdf}");

        Assert.Matches("(?m)^Tagged: +yes$", info);
        Assert.Matches("(?m)^Title: +Plan: Tooth 16, upper right first molar$", info);

        // 148 × 210 mm (ISO 216).
        Assert.Matches("(?m)^Page size: +420 x 595 pts \\(A5\\)$", info);
    }

    [Fact]
    public void Embeds_every_font()
    {
        var rows = Poppler.Run("pdffonts", Made.Pdf, "{pdf}").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).ToList();

        Assert.NotEmpty(rows);
        Assert.All(rows, row => Assert.Matches(" yes +(yes|no) +(yes|no) +\\d+ +\\d+$", row));
    }

    [Fact]
    public void Two_canals_stand_on_a_page_and_the_tooth_in_words_on_every_one()
    {
        var pages = Pages();

        Assert.Equal(3, pages.Count);
        Assert.All(pages, page => Assert.Contains(" Tooth 16, upper right first molar ", page, StringComparison.Ordinal));
        Assert.All(pages, page => Assert.DoesNotContain("Patient", page, StringComparison.Ordinal));

        // The take-down leaves no room for a second canal on the first one.
        Assert.Matches(" Take-down 1 .* MB1 Stops from the mesiobuccal cusp, in mm\\.", pages[0]);
        Assert.Matches(" DB Stops from the distobuccal cusp, in mm\\. .* P Stops from the palatal cusp, in mm\\.", pages[1]);
    }

    [Fact]
    public void Every_stop_speed_wall_and_cut_equals_the_one_in_the_JSON()
    {
        var text = string.Join(' ', Pages());
        var number = 0;
        foreach (var step in Made.Json.GetProperty("steps").EnumerateArray())
        {
            number++;
            if (step.GetProperty("phase").GetString() == "take_down")
            {
                Assert.Contains($" {number} {step.GetProperty("action").GetString()} ", text, StringComparison.Ordinal);
                continue;
            }

            // Drawn cell by cell: number, sign, instrument with its use, stop, short of the end, speed and torque, wall, loss, filling.
            var cells = Regex.Match(text, $@" {number} (\.\d\d|\d+|–) {Regex.Escape(step.GetProperty("instrument").GetString()!)}(, kit [^,]*, \d+, use \d+ of \d+)? (?<depth>\S+) (?<short>\S+) (?<rpm>\S+)( · (?<torque>\S+))? (?<wall>\S+) (?<loss>\S+) (?<filling>[\d.]+(?= mm³)|–)");
            Assert.True(cells.Success, $"step {number} is not on the sheet");
            Same(step, "stop_from_reference_mm", cells.Groups["depth"].Value, 0.05);
            Same(step, "stop_from_end_mm", cells.Groups["short"].Value, 0.05);
            Same(step, "rpm", cells.Groups["rpm"].Value, 0);
            Same(step, "torque_ncm", cells.Groups["torque"].Success ? cells.Groups["torque"].Value : "–", 0);
            Same(step, "wall_left_mm", cells.Groups["wall"].Value, 0.005);
            Same(step, "loss_per_side_mm", cells.Groups["loss"].Value, 0.005);
            Same(step, "filling_cut_mm3", cells.Groups["filling"].Value, 0.05);
        }

        Assert.True(number > 10);
    }

    [Fact]
    public void No_caution_limit_refusal_or_assumption_is_left_out()
    {
        var text = string.Join(' ', Pages());
        var sentences = Made.Json.GetProperty("steps").EnumerateArray()
            .SelectMany(step => step.GetProperty("cautions").EnumerateArray().Append(step.GetProperty("binding_limit")).Append(step.GetProperty("action")))
            .Concat(Made.Json.GetProperty("assumptions").EnumerateArray())
            .Concat(Made.Json.GetProperty("refusals").EnumerateArray().SelectMany(refusal => (JsonElement[])[refusal.GetProperty("reason"), refusal.GetProperty("remedy")]))
            .Select(sentence => sentence.GetString()!)
            .Distinct()
            .ToList();

        Assert.True(sentences.Count > 20);
        Assert.NotEmpty(Made.Json.GetProperty("refusals").EnumerateArray());
        Assert.All(sentences, sentence => Assert.Contains(sentence, text, StringComparison.Ordinal));
        Assert.Contains("At most 3 attempts and 10 min. Then: Fill to there and follow; surgery; or refer.", text, StringComparison.Ordinal);
    }

    // The other way round: nothing stands there that the plan doesn't say.
    [Fact]
    public void Every_number_on_the_sheet_is_one_of_the_plans()
    {
        var steps = Made.Json.GetProperty("steps").GetArrayLength();
        var known = Numbers(Made.Json.GetRawText())
            .SelectMany(number => (string[])[number, Shown(number, "0.0"), Shown(number, "0.00"), Shown(number, "0.##"), Shown(number, "0")])
            .Concat(Enumerable.Range(1, steps).Select(number => number.ToString(CultureInfo.InvariantCulture)))
            .ToHashSet();

        // The foot has the date, and pages.
        var body = Pages().Select(page => Regex.Replace(page, @"\d+ \w+ \d{4} · page \d of \d ", string.Empty));
        Assert.Empty(body.SelectMany(Numbers).Where(number => !known.Contains(number)).Distinct());

        static string Shown(string number, string format) => double.Parse(number, CultureInfo.InvariantCulture).ToString(format, CultureInfo.InvariantCulture);
    }

    private static IEnumerable<string> Numbers(string text) => Regex.Matches(text, @"\d*\.?\d+").Select(match => match.Value);

    private static void Same(JsonElement step, string member, string shown, double rounding)
    {
        var value = step.GetProperty(member);
        if (value.ValueKind == JsonValueKind.Null)
        {
            Assert.Equal("–", shown);
        }
        else
        {
            Assert.InRange(double.Parse(shown, CultureInfo.InvariantCulture), value.GetDouble() - rounding - 1e-9, value.GetDouble() + rounding + 1e-9);
        }
    }

    private static List<string> Pages() =>
    [
        .. Poppler.Run("pdftotext", Made.Pdf, "-raw", "-enc", "UTF-8", "{pdf}", "-").Split('\f', StringSplitOptions.RemoveEmptyEntries)
            .Select(page => Regex.Replace(page, "\\s+", " ").Trim()),
    ];

    // A crown, a core and a post; three canals, one ledged; a tip that doesn't fit the unit; an instrument with uses left.
    private static (JsonElement, byte[]) Make()
    {
        const string Marks = "\"trace_px\":[[310,420],[300,980]]";
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            var (file, pdf) = (Path.Combine(folder.FullName, "case.json"), Path.Combine(folder.FullName, "plan.pdf"));
            File.WriteAllText(file, $$"""
                {"schema":1,"tooth":"16","filling":"gutta_percha","post":"cast post","crown":"metal crown","core":"composite core",
                 "clinic":{"ultrasonic_unit":{"name":"unit 1","thread":"M3","chuck":null},
                  "items":[{"id":"a1","kind":"retreatment-30-06","position":"kit A, 3","uses":2}]},
                 "canals":[
                 {"name":"MB1","root":"MB",{{Marks}},"fill_end_mm":1,
                  "lengths":[{"from":"mesiobuccal cusp","to":"radiographic_apex","mm":20.5,"source":"film"}],
                  "filling_width":[[0,0.3,0.25,0.35],[14,0.86,0.8,0.9]],"walls":[{"from_end_mm":8,"side":"distal","mm":1.2}]},
                 {"name":"DB",{{Marks}},"lengths":[{"from":"distobuccal cusp","to":"radiographic_apex","mm":19.75,"source":"film"}]},
                 {"name":"P",{{Marks}},"obstacles":["ledge"],"lengths":[{"from":"palatal cusp","to":"foramen","mm":21,"source":"length_meter"},{"from":"palatal cusp","to":"file_stop","mm":17,"source":"instrument_stop"}]}]}
                """);
            using var output = new MemoryStream();
            using var error = new MemoryStream();
            Assert.Equal(0, Application.Run(["plan", "--case", file, "--json", "--pdf", pdf], new CommandConsole(output, error)));
            return (JsonDocument.Parse(output.ToArray()).RootElement, File.ReadAllBytes(pdf));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
