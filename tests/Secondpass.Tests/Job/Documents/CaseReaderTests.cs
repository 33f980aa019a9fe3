using System.Text;
using CsCheck;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Documents;

namespace Secondpass.Tests.Job.Documents;

public sealed class CaseReaderTests
{
    private const string Whole = """
        {
          "schema": 1,
          "tooth": "16",
          "pixel_spacing_mm": 0.03,
          "after_spacing_mm": null,
          "after_state": "removed",
          "canals": [
            { "name": "MB1", "trace_px": [[310, 420], [300.5, 980]], "pin": "hard",
              "branches": [ { "name": "MB2", "trace_px": [[306, 640], [340, 960]], "after_state": "instrument_in" } ] },
            { "name": "P", "trace_px": [[420, 400], [430, 1010]] }
          ]
        }
        """;

    [Fact]
    public void Reads_tooth_scale_state_and_the_canals_as_trees()
    {
        var read = Read(Whole).Value;

        Assert.Equal("upper right first molar", read.Tooth!.Value.Words);
        Assert.Equal(0.03, read.BeforeScale!.MillimetresPerPixel);
        Assert.Equal(CalibrationSource.Entered, read.BeforeScale.Source);
        Assert.Null(read.AfterScale);
        Assert.Equal(AfterState.Removed, read.AfterState);
        Assert.Equal(["MB1", "MB2", "P"], read.Canals.SelectMany(canal => canal.SelfAndBelow()).Select(canal => canal.Name));
        Assert.Equal(new Pin(new PixelPoint(300.5, 980), PinStrength.Hard), read.Canals[0].Pins[1]);
        Assert.Equal(PinStrength.Soft, read.Canals[0].Branches[0].Pins[0].Strength);
        Assert.Equal(AfterState.InstrumentIn, Assert.Single(read.AfterStateOfBranch, state => state.Key == "MB2").Value);
    }

    [Fact]
    public void Reads_a_case_that_leaves_out_all_that_may_be_left_out()
    {
        var read = Read("""{"schema":1,"tooth":"36","canals":[{"name":"D","trace_px":[[1,1],[5,90]]}]}""").Value;

        Assert.Null(read.BeforeScale);
        Assert.Null(read.AfterState);
        Assert.Empty(read.AfterStateOfBranch);
    }

    [Fact]
    public void Reads_a_known_length_which_is_known_to_half_a_millimetre_where_nothing_else_is_said()
    {
        var read = Read(Whole.Replace("\"pixel_spacing_mm\": 0.03", "\"known_length\": {\"ends_px\":[100,50,100,750.5],\"length_mm\":21}", StringComparison.Ordinal)).Value;

        Assert.Null(read.BeforeScale);
        Assert.Equal(new KnownLength(new PixelPoint(100, 50), new PixelPoint(100, 750.5), new Millimetres(21), new Millimetres(0.5)), read.KnownLength);
    }

    [Fact]
    public void Reads_what_is_marked_on_both_films_and_which_marks_are_hard()
    {
        var read = Read("""{"schema":1,"canals":[{"name":"D","trace_px":[[1,1],[3,40],[5,90]],"hard_px":[[3,40]]}],"landmarks_px":[[10,20,11,22],[300,400,301,402]]}""").Value;

        Assert.Null(read.Tooth);
        Assert.Equal([PinStrength.Soft, PinStrength.Hard, PinStrength.Soft], read.Canals[0].Pins.Select(pin => pin.Strength));
        Assert.Equal(new LandmarkPair(new PixelPoint(300, 400), new PixelPoint(301, 402)), read.Landmarks[1]);
    }

    [Fact]
    public void Reads_a_text_with_a_byte_order_mark() =>
        Assert.True(CaseReader.Read(new UTF8Encoding(true).GetPreamble().Concat(Encoding.UTF8.GetBytes(Whole)).ToArray()).IsGiven);

    // The whole text is the promise: where it is, what was there, what was expected, what to do.
    [Theory]
    [InlineData("", "The text is empty. | Give a JSON document.")]
    [InlineData("  \n ", "The text is empty. | Give a JSON document.")]
    [InlineData("GIF89a", "Line 1, column 1: the text stops being JSON at “GIF89a”. | Look just before it for a missing comma, quote or bracket; JSON has no comments and no comma behind the last entry.")]
    [InlineData("{\n  \"schema\": 1,\n  \"tooth\": \"16\"\n  \"canals\": []\n}", "Line 4, column 3: the text stops being JSON at “\"canals\": []”. | Look just before it for a missing comma, quote or bracket; JSON has no comments and no comma behind the last entry.")]
    [InlineData("{\"schema\": 1,", "Line 1, column 14: the text ends before its outermost bracket is closed. | Look just before it for a missing comma, quote or bracket; JSON has no comments and no comma behind the last entry.")]
    [InlineData("{\"schema\": 1} {}", "Line 1, column 15: the text stops being JSON at “{}”. | Look just before it for a missing comma, quote or bracket; JSON has no comments and no comma behind the last entry.")]
    [InlineData("[]", "Line 1, column 1: a list […] stands where an object {…} is expected. | What measure, compare and plan start from besides the films: the tooth, the scale, the canals as marked on the film before, and for plan what is known of them.")]
    [InlineData("{}", "Line 1, column 1: “schema” is missing. | Add it: schema: Always 1.")]
    public void Says_where_and_why_a_text_is_no_case(string text, string expected) => Assert.Equal(expected, Said(Read(text)));

    [Theory]
    [InlineData("\"schema\": 1", "\"schema\": 2", "Line 2, column 13, schema: the number 2 is not known here; expected 1. | schema: Always 1.")]
    [InlineData("\"schema\": 1", "\"schema\": \"1\"", "Line 2, column 13, schema: the text “1” stands where a number is expected. | schema: Always 1.")]
    [InlineData("\"tooth\": \"16\"", "\"tooth\": \"19\"", "Line 3, column 12, tooth: “19” is not a tooth in the two-digit notation of ISO 3950. | Give the quadrant and the position, such as 16 for the upper right first molar; permanent teeth are 11–18, 21–28, 31–38 and 41–48.")]
    [InlineData("\"tooth\": \"16\"", "\"tooth\": 16", "Line 3, column 12, tooth: the number 16 stands where a text in quotes is expected. | tooth: The tooth after ISO 3950, two digits, such as \"16\". Null: not said.")]
    [InlineData("\"tooth\": \"16\"", "\"tooht\": \"16\"", "Line 3, column 3: “tooht” is not known here. | Did you mean “tooth”? Known here: schema, tooth, pixel_spacing_mm, after_spacing_mm, after_state, canals, landmarks_px, filling, crown, core, post, resin_follows, clinic, known_length.")]
    [InlineData("\"tooth\": \"16\"", "\"tooth\": \"16\", \"tooth\": \"17\"", "Line 3, column 18: “tooth” stands here twice. | Keep the one that is meant.")]
    [InlineData("\"pixel_spacing_mm\": 0.03", "\"pixel_spacing_mm\": 0", "Line 4, column 23, pixel_spacing_mm: A pixel of 0 mm is not that of an intra-oral film (0.005 to 0.5 mm). | Check the unit (30 µm is 0.03 mm), or calibrate by an object of known length on the film.")]
    [InlineData("\"pixel_spacing_mm\": 0.03", "\"pixel_spacing_mm\": 3", "Line 4, column 23, pixel_spacing_mm: A pixel of 3 mm is not that of an intra-oral film (0.005 to 0.5 mm). | Check the unit (30 µm is 0.03 mm), or calibrate by an object of known length on the film.")]
    [InlineData("\"after_spacing_mm\": null", "\"after_spacing_mm\": -0.03", "Line 5, column 23, after_spacing_mm: A pixel of -0.03 mm is not that of an intra-oral film (0.005 to 0.5 mm). | Check the unit (30 µm is 0.03 mm), or calibrate by an object of known length on the film.")]
    [InlineData("\"pixel_spacing_mm\": 0.03", "\"pixel_spacing_mm\": 1e999", "Line 4, column 23, pixel_spacing_mm: the number 1e999 is too large. | pixel_spacing_mm: Size of a pixel of the film before, in mm. Beats the file's own scale, with a notice. Null: the file's own.")]
    [InlineData("\"after_spacing_mm\": null", "\"known_length\": {\"ends_px\":[1,1,1,31],\"length_mm\":21}", "Line 5, column 19, known_length: The two marks are 30 pixels apart; a scale needs at least 50. | Mark both ends of the object, and take the longest that is on the film.")]
    [InlineData("\"after_spacing_mm\": null", "\"known_length\": {\"ends_px\":[1,1,1,701],\"length_mm\":500}", "Line 5, column 19, known_length: A known length of 500 mm can't give an intra-oral film its scale (2 to 100 mm). | Give the object's length in mm.")]
    [InlineData("\"after_spacing_mm\": null", "\"known_length\": {\"ends_px\":[1,1,701],\"length_mm\":21}", "Line 5, column 30, known_length.ends_px: 3 numbers here; 4 are expected: [x of one end, pixels, y of one end, pixels, x of the other end, pixels, y of the other end, pixels]. | ends_px: Its two ends in pixels of the film, at least 50 pixels apart.")]
    [InlineData("\"after_spacing_mm\": null", "\"known_length\": {\"ends_px\":[1,1,1,701],\"length_mm\":\"21 cm\"}", "Line 5, column 54, known_length.length_mm: the text “21 cm” stands where a number is expected. | length_mm: Its length, in mm.")]
    [InlineData("\"removed\"", "\"instrument in\"", "Line 6, column 18, after_state: “instrument in” is not a word known here; expected removed, instrument_in, dressing, refilled. | Did you mean “instrument_in”? after_state: What stands in the canals on the film after: removed, instrument_in, dressing or refilled. Asked, never guessed: compare needs it, measure does not.")]
    [InlineData("\"hard\"", "\"strong\"", "Line 8, column 69, canals[0].pin: “strong” is not a word known here; expected soft, hard. | pin: soft (default): the path may leave a mark by up to 8 pixels for a better place; hard: it goes through the marks.")]
    [InlineData("[[420, 400], [430, 1010]]", "[[420, 400]]", "Line 10, column 32, canals[1].trace_px: 1 entry here; at least 2 expected. | trace_px: At least two marks [x, y] in pixels of the film before, in order from orifice to end; a branch starts at a point of its trunk.")]
    [InlineData("[[420, 400], [430, 1010]]", "[[420, 400], [430]]", "Line 10, column 45, canals[1].trace_px[1]: 1 number here; 2 are expected: [x, pixels, y, pixels]. | trace_px: At least two marks [x, y] in pixels of the film before, in order from orifice to end; a branch starts at a point of its trunk.")]
    [InlineData("[[420, 400], [430, 1010]]", "[[420, 400], [430, null]]", "Line 10, column 51, canals[1].trace_px[1][1]: null stands in the list. | trace_px: At least two marks [x, y] in pixels of the film before, in order from orifice to end; a branch starts at a point of its trunk.")]
    [InlineData("[[420, 400], [430, 1010]]", "[[420, 400], [420, 400]]", "Line 10, column 45, canals[1].trace_px[1]: the mark [420, 400] is at the same place as the one before it. | Leave one of the two out; a canal needs two different ends.")]
    [InlineData("[[420, 400], [430, 1010]]", "{}", "Line 10, column 32, canals[1].trace_px: an object {…} stands where a list […] is expected. | trace_px: At least two marks [x, y] in pixels of the film before, in order from orifice to end; a branch starts at a point of its trunk.")]
    [InlineData("\"name\": \"P\"", "\"name\": \"mb2\"", "Line 10, column 15, canals[1].name: “mb2” names another canal of this tooth already. | Give each canal and branch a name of its own, such as MB1 and MB2.")]
    [InlineData("\"name\": \"P\"", "\"name\": \"  \"", "Line 10, column 15, canals[1].name: the text “  ” has 2 characters; 1 to 40 are expected, not only spaces. | name: Anatomical name, unique in the tooth, such as MB1.")]
    [InlineData("[306, 640]", "[620, 640]", "Line 9, column 51, canals[0].branches[0].trace_px[0]: the branch starts at [620, 640], 314 pixels from its trunk's marks; 124 is the farthest that a curved trunk could reach. | Start the branch at a point of its trunk, or list it as a canal of its own.")]
    [InlineData("\"pin\": \"hard\",", "\"pins\": \"hard\",", "Line 8, column 62, canals[0]: “pins” is not known here. | Did you mean “pin”? Known here: name, trace_px, pin, after_state, branches, hard_px, root, intent, filled, fill_end_mm, obstacles, lengths, meets, walls, filling_width, canal_width, no_deeper_than_mm, final_size, final_taper.")]
    public void Says_what_is_wrong_with_a_value_and_what_to_do(string from, string to, string expected)
    {
        Assert.Contains(from, Whole, StringComparison.Ordinal);

        Assert.Equal(expected, Said(Read(Whole.Replace(from, to, StringComparison.Ordinal))));
    }

    [Fact]
    public void Refuses_a_hard_mark_that_is_no_mark_of_the_canal() =>
        Assert.Equal(
            "Line 1, column 79, canals[0].hard_px[0]: [3, 41] is not one of the marks in trace_px. | Repeat a mark of trace_px exactly, or add this one there too.",
            Said(Read("""{"schema":1,"canals":[{"name":"D","trace_px":[[1,1],[3,40],[5,90]],"hard_px":[[3,41]]}]}""")));

    [Fact]
    public void Refuses_a_case_without_canals() =>
        Assert.Equal(
            "Line 1, column 35, canals: 0 entries here; at least 1 expected. | canals: The canals, marked on the film before; at least one.",
            Said(Read("""{"schema":1,"tooth":"16","canals":[]}""")));

    [Fact]
    public void Refuses_a_text_in_UTF_16_and_says_how_to_store_it() =>
        Assert.Equal(
            "The text is stored as UTF-16. | Store it as UTF-8: editors offer it when saving.",
            Said(CaseReader.Read(Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes(Whole)).ToArray())));

    [Fact]
    public void Refuses_bytes_that_are_no_text() =>
        Assert.Equal("This is not a text in UTF-8. | Give a JSON text stored as UTF-8.", Said(CaseReader.Read(new byte[] { 0x89, 0x50, 0x4E, 0x47 })));

    [Fact]
    public void Refuses_a_case_larger_than_any_case_is() =>
        Assert.Equal(
            "The case has 1000001 bytes; a case file has at most 1000000. | Give a JSON document with the tooth and a few marks on each canal.",
            Said(CaseReader.Read(new byte[CaseReader.LargestBytes + 1])));

    [Fact]
    public void Quotes_only_the_beginning_of_a_long_value() =>
        Assert.Contains("“" + new string('9', 40) + "…”", Said(Read(Whole.Replace("\"removed\"", "\"" + new string('9', 5000) + "\"", StringComparison.Ordinal))), StringComparison.Ordinal);

    [Fact]
    public void Counts_columns_in_characters_not_in_bytes() =>
        Assert.StartsWith("Line 1, column 17: “zzzzzzzz” is not known here.", Said(Read("""{"tooth":"ÄÖÜ", "zzzzzzzz":1}""")), StringComparison.Ordinal);

    [Fact]
    public void Refuses_branches_nested_without_end_as_no_JSON()
    {
        var nested = string.Concat(Enumerable.Repeat("""{"name":"a","trace_px":[[0,0],[1,1]],"branches":[""", 5000));

        Assert.False(Read("""{"schema":1,"tooth":"16","canals":[""" + nested).IsGiven);
    }

    // Law: whatever the bytes, the reader answers or refuses; nothing escapes it.
    [Fact]
    public void Answers_or_refuses_whatever_is_done_to_the_text() =>
        Gen.Select(Gen.Int[0, Whole.Length - 1], Gen.Int[0, 12], Gen.Byte.Array[0, 8]).Sample((at, length, bytes) =>
        {
            var text = Encoding.UTF8.GetBytes(Whole);
            var changed = text[..at].Concat(bytes).Concat(text[Math.Min(text.Length, at + length)..]).ToArray();
            var answer = CaseReader.Read(changed);
            return answer.IsGiven || (answer.Refusal.Reason.Length > 0 && answer.Refusal.Remedy.Length > 0);
        });

    [Fact]
    public void Says_which_mark_lies_outside_the_film()
    {
        var film = new Radiograph(420, 1300, new ushort[420 * 1300], 255, FilmFormat.Simulated, new string('0', 64));

        var refusal = Read(Whole).Value.WhyNotOn(film);

        Assert.Equal("Mark 1 of P, [420, 400], lies outside the film before, which has 420 × 1300 pixels.", refusal!.Reason);
        Assert.Equal("Give marks in pixels of the film before: [0, 0] is the centre of its top left pixel, x runs right, y runs down.", refusal.Remedy);
        Assert.Equal(420, refusal.Evidence["x_px"]);
    }

    [Fact]
    public void Finds_no_fault_with_marks_on_the_film() =>
        Assert.Null(Read(Whole).Value.WhyNotOn(new Radiograph(900, 1300, new ushort[900 * 1300], 255, FilmFormat.Simulated, new string('0', 64))));

    private static Answer<MarkedCase> Read(string text) => CaseReader.Read(Encoding.UTF8.GetBytes(text));

    private static string Said(Answer<MarkedCase> answer) => $"{answer.Refusal.Reason} | {answer.Refusal.Remedy}";
}
