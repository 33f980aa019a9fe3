using System.Text;
using System.Text.Json;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Job.Cases;
using Secondpass.Job.Documents;
using Secondpass.Job.Shown;
using Secondpass.Tests.Job.Incoming;

namespace Secondpass.Tests.Job.Cases;

/// <summary>A film that has no scale of its own gets one from an object of known length on it.</summary>
public sealed class CalibrateFilmTests : IDisposable
{
    // 700 pixels: 21 mm make 0.03 mm a pixel.
    private const string Line = """{"schema":1,"kind":"length","points_px":[[300,100],[300,800]]}""";
    private const string Root = """{"schema":1,"kind":"length","points_px":[[200,200],[200,700]]}""";

    private readonly CaseDesk desk = new();
    private readonly CalibrateFilm calibrating;
    private readonly CaseId id;
    private readonly string film;

    public CalibrateFilmTests()
    {
        calibrating = new CalibrateFilm(desk.Store, desk.Shelf);
        var it = desk.Open(DemoFilm.Case(DemoFilm.Incisor).Tooth!.Value.ToString());
        id = it.Id;
        var ready = desk.Films.TakeIn([new SentFile("scan.png", DemoFilm.Before(DemoFilm.Incisor))]).Value;
        film = desk.Films.Attach(id, it.Version, ready, FilmsDesk.Before, Confirmation.None, CaseDesk.Anna).Value.Films[0].Sha256;
    }

    private DentalCase Now => desk.Store.Cases.Read(id).Value;

    private ShownScale Scale => ShownScale.Of(Now, film, calibrating.ScaleOf(Now, film));

    public void Dispose() => desk.Dispose();

    [Fact]
    public void A_line_on_an_object_of_known_length_gives_the_film_its_scale_and_later_lengths_use_it_and_are_as_uncertain()
    {
        Assert.Equal("no_scale", desk.Drawing.Measure(id, film, Bytes(Root)).Refusal.Code);
        Assert.Null(Scale.MillimetresPerPixel);

        Take(Line, "21");

        Assert.Equal("0.03 mm per pixel, from a known length of 21 mm on the film, ±3.0 %", Scale.Words);
        Keep("Root", Root);
        var root = Assert.Single(Now.Drawn);
        Assert.Equal((0.03, CalibrationSource.KnownLength), (root.Scale!.MillimetresPerPixel, root.Scale.Source));
        var length = root.Figure(DrawnQuantity.Length)!;
        Assert.Equal(15, length.Value.Value, 1e-9);

        // 1.96 · 0.015433 · 15 mm.
        Assert.Equal(0.4537, length.FromScale, 0.0002);
        Assert.Equal("0.03 mm per pixel, from an object of known length on the film", ShownMeasurement.Of(Now, root, Scale).Scale);
    }

    [Theory]
    [InlineData("21,5", 21.5, 0.05)]
    [InlineData("21.5", 21.5, 0.05)]
    [InlineData(" 21 ", 21, 0.5)]
    [InlineData("21,50", 21.5, 0.005)]
    public void A_comma_and_a_dot_read_alike_and_the_last_digit_says_how_exactly_it_is_known(string typed, double millimetres, double within)
    {
        Take(Line, typed);

        var known = Now.KnownLengths[film]!;
        Assert.Equal((millimetres, within), (known.Length.Value, Math.Round(known.Within.Value, 6, MidpointRounding.AwayFromZero)));
    }

    [Theory]
    [InlineData("21 cm", "not_a_number", "The known length: “21 cm” is not a number.")]
    [InlineData("long", "not_a_number", "The known length: “long” is not a number.")]
    [InlineData("0", "out_of_range", "The known length: 0 mm can't be.")]
    [InlineData("-21", "out_of_range", "The known length: -21 mm can't be.")]
    [InlineData("500", "out_of_range", "The known length: 500 mm can't be.")]
    [InlineData("  ", "no_true_length", "The true length of the object is not said.")]
    [InlineData(null, "no_true_length", "The true length of the object is not said.")]
    public void An_absurd_length_is_refused_quoting_it_and_nothing_is_noted(string? typed, string code, string reason)
    {
        var refusal = calibrating.ByKnownLength(id, Now.Version, film, Line, typed, CaseDesk.Anna).Refusal;

        Assert.Equal((code, reason), (refusal.Code, refusal.Reason));
        Assert.Equal("Enter it in mm, from 2 to 100, with the digits that are known: 21 or 21,5.", refusal.Remedy);
        Assert.Empty(Now.KnownLengths);
    }

    [Theory]
    [InlineData("""{"schema":1,"kind":"length","points_px":[[300,100],[300,140]]}""", "marks_too_close", "The two marks are 40 pixels apart; a scale needs at least 50.")]
    [InlineData("""{"schema":1,"kind":"length","points_px":[[300,100],[300,4000]]}""", "point_outside_film", "A point at (300, 4000) lies outside the film of 700 × 1000 pixels.")]
    [InlineData("""{"schema":1,"kind":"length","points_px":[[300,100]]}""", "no_straight_line", "A scale comes from a straight line between two points; 1 is set, as “length”.")]
    [InlineData("""{"schema":1,"kind":"angle_of_lines","points_px":[[300,100],[300,400],[200,100],[100,400]]}""", "no_straight_line", "A scale comes from a straight line between two points; 4 are set, as “angle of lines”.")]
    [InlineData("", "nothing_drawn", "Nothing is drawn yet.")]
    public void What_is_no_line_that_can_be_a_scale_is_refused(string drawing, string code, string reason)
    {
        var refusal = calibrating.ByKnownLength(id, Now.Version, film, drawing, "21", CaseDesk.Anna).Refusal;

        Assert.Equal((code, reason), (refusal.Code, refusal.Reason));
        Assert.NotEmpty(refusal.Remedy);
        Assert.Empty(Now.KnownLengths);
    }

    [Fact]
    public void An_implausible_pixel_is_refused_with_the_length_and_the_distance() => Assert.Equal(
        "99 mm over 100 pixels make a pixel of 0.99 mm, which is not that of an intra-oral film (0.005 to 0.5 mm).",
        calibrating.ByKnownLength(id, Now.Version, film, Line.Replace("800", "200", StringComparison.Ordinal), "99", CaseDesk.Anna).Refusal.Reason);

    [Fact]
    public void It_is_replaced_and_taken_back_and_every_step_stays_on_record()
    {
        Take(Line, "21");
        Take(Line, "22,4");
        Assert.Equal(0.032, Scale.MillimetresPerPixel!.Value, 1e-12);

        Assert.True(calibrating.TakeBack(id, Now.Version, film, CaseDesk.Ben).IsGiven);
        Assert.Null(Scale.MillimetresPerPixel);
        Assert.Equal("no_known_length", calibrating.TakeBack(id, Now.Version, film, CaseDesk.Ben).Refusal.Code);
        Assert.Equal(
            [typeof(FilmCalibrated), typeof(FilmCalibrated), typeof(FilmCalibrationTakenBack)],
            desk.Store.Cases.History(id).Value.Select(line => line.Event.GetType()).Where(type => type.Name.StartsWith("FilmCalibrat", StringComparison.Ordinal)));
    }

    [Fact]
    public void What_was_measured_with_another_scale_says_so_keeps_its_figures_when_it_is_renamed_and_is_measured_anew_when_asked()
    {
        Keep("Root", Root.Replace("]}", "],\"pixel_spacing_mm\":0.04}", StringComparison.Ordinal));
        Assert.False(ShownMeasurement.Of(Now, Now.Drawn[0], Scale).HasOtherScale);
        Take(Line, "21");
        Assert.True(ShownMeasurement.Of(Now, Now.Drawn[0], Scale).HasOtherScale);

        Assert.True(desk.Drawing.Keep(id, Now.Version, film, 1, "Palatal root", Root, CaseDesk.Anna).IsGiven);
        Assert.Equal(("Palatal root", 20.0), (Now.Drawn[0].Name, Now.Drawn[0].Figure(DrawnQuantity.Length)!.Value.Value));

        Assert.True(desk.Drawing.MeasureAnew(id, Now.Version, 1, CaseDesk.Anna).IsGiven);
        Assert.Equal(("Palatal root", 15.0), (Now.Drawn[0].Name, Math.Round(Now.Drawn[0].Figure(DrawnQuantity.Length)!.Value.Value, 9, MidpointRounding.AwayFromZero)));
        Assert.False(ShownMeasurement.Of(Now, Now.Drawn[0], Scale).HasOtherScale);
        Assert.Equal("measurement_not_here", desk.Drawing.MeasureAnew(id, Now.Version, 7, CaseDesk.Anna).Refusal.Code);
    }

    [Fact]
    public void Of_two_at_once_the_second_is_told_who_was_first_and_nothing_of_it_is_stored()
    {
        var version = Now.Version;
        Take(Line, "21");

        var refusal = calibrating.ByKnownLength(id, version, film, Line, "25", CaseDesk.Ben).Refusal;

        Assert.Equal("case_changed", refusal.Code);
        Assert.Contains("Anna changed this case meanwhile", refusal.Reason, StringComparison.Ordinal);
        Assert.Equal(21, Now.KnownLengths[film]!.Length.Value);
        Assert.Equal("case_changed", calibrating.TakeBack(id, version, film, CaseDesk.Ben).Refusal.Code);
    }

    [Fact]
    public void A_film_of_another_case_is_refused() =>
        Assert.Equal("film_of_another_case", calibrating.ByKnownLength(id, Now.Version, new string('0', 64), Line, "21", CaseDesk.Anna).Refusal.Code);

    [Fact]
    public void Canals_are_measured_with_it_whatever_pixel_size_was_typed_beside_their_marks_before()
    {
        var marks = DemoFilm.CaseText(DemoFilm.Incisor);
        var typed = desk.Measuring.Note(id, Now.Version, film, marks, CaseDesk.Anna).Value.Canals[0].FillingEndToCanalEnd!.Value.Value;
        var export = new ExportMeasurements(desk.Store, desk.Shelf);
        var before = export.Document(id).Value.Films[0];

        // Twice as long as the pixel size of the marks says: 700 pixels of 0.05806 mm.
        Take(Line, "40,64");
        var after = export.Document(id).Value.Films[0];

        Assert.Equal(2, after.Canals[0].LengthMm!.Value / before.Canals[0].LengthMm!.Value, 0.02);
        Assert.Equal(("entered", "known_length"), (before.Scale!.From, after.Scale!.From));
        Assert.Equal(after.Canals[0].LengthPx * 40.64 / 700, after.Canals[0].LengthMm!.Value, 0.001);
        Assert.True(desk.Measuring.Note(id, Now.Version, film, marks, CaseDesk.Anna).Value.Canals[0].FillingEndToCanalEnd!.Value.Value > typed);
    }

    [Fact]
    public void The_export_says_the_scale_with_its_source_and_a_case_file_takes_the_same_known_length()
    {
        Take(Line, "21,0");
        var export = new ExportMeasurements(desk.Store, desk.Shelf);

        var json = export.Json(id).Value;
        var scale = Assert.Single(export.Document(id).Value.Films).Scale!;
        Assert.Equal((0.03, "known_length", 1.4), (Math.Round(scale.PixelSpacingMm, 12, MidpointRounding.AwayFromZero), scale.From, scale.WithinPercent));

        var known = JsonDocument.Parse(json).RootElement.GetProperty("films")[0].GetProperty("scale").GetProperty("known_length").GetRawText();
        var marked = CaseReader.Read(Bytes($$"""{"schema":1,"tooth":null,"pixel_spacing_mm":null,"after_spacing_mm":null,"after_state":null,"canals":[{"name":"C","trace_px":[[349,563],[369,126]],"pin":null,"after_state":null,"branches":null}],"known_length":{{known}}}""")).Value;
        Assert.Equal(Now.KnownLengths[film], marked.KnownLength);
    }

    [Fact]
    public void What_is_left_begins_with_the_known_length_and_one_that_was_taken_back_counts_nowhere_any_more()
    {
        desk.Measuring.Note(id, Now.Version, film, DemoFilm.CaseText(DemoFilm.Incisor), CaseDesk.Anna);
        Take(Line, "21");
        var compare = new CompareForCase(desk.Store);

        var marked = CaseReader.Read(Bytes(compare.Films(id.Value).Value.Marks)).Value;
        Assert.Equal((null, 21.0), (marked.BeforeScale, marked.KnownLength!.Length.Value));

        calibrating.TakeBack(id, Now.Version, film, CaseDesk.Anna);
        Assert.Equal(0.02903, CaseReader.Read(Bytes(compare.Films(id.Value).Value.Marks)).Value.BeforeScale!.MillimetresPerPixel);
        Assert.Null(marked.WithScaleOf(Now, film).KnownLength);
    }

    private void Take(string drawing, string typed) => Assert.True(calibrating.ByKnownLength(id, Now.Version, film, drawing, typed, CaseDesk.Anna).IsGiven);

    private void Keep(string name, string drawing) => Assert.True(desk.Drawing.Keep(id, Now.Version, film, null, name, drawing, CaseDesk.Anna).IsGiven);

    private static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);
}
