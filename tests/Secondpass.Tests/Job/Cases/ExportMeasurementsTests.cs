using System.Text;
using System.Text.Json;
using Json.Schema;
using Secondpass.App.Commands;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Documents;
using Secondpass.Job.Shown;
using Secondpass.Tests.Commands;
using Secondpass.Tests.Job.Incoming;

namespace Secondpass.Tests.Job.Cases;

public sealed class ExportMeasurementsTests : IDisposable
{
    private const string Straight = """{"schema":1,"kind":"length","points_px":[[300,200],[300,700]],"pixel_spacing_mm":0.03}""";
    private const string Instrument = """{"schema":1,"kind":"known_length","points_px":[[320,150],[320,800]],"true_length_mm":20,"pixel_spacing_mm":0.03}""";
    private const string Round = """{"schema":1,"kind":"lesion","points_px":[[300,200],[360,260],[300,320],[240,260]],"pixel_spacing_mm":0.03}""";

    private readonly CaseDesk desk = new();
    private readonly CaseId id;
    private readonly ExportMeasurements export;

    public ExportMeasurementsTests()
    {
        export = new ExportMeasurements(desk.Store, desk.Shelf);
        var it = desk.Open(DemoFilm.Case(DemoFilm.Incisor).Tooth!.Value.ToString());
        id = it.Id;
        it = Attach(it, DemoFilm.Before(DemoFilm.Incisor), FilmMoment.Before);
        it = Attach(it, DemoFilm.After(DemoFilm.Incisor), FilmMoment.Recall);
        it = desk.Measuring.Note(id, it.Version, it.Films[0].Sha256, DemoFilm.CaseText(DemoFilm.Incisor), CaseDesk.Anna).Value;
        foreach (var (film, name, drawing) in new[] { (0, "=cmd|root", Straight), (0, "File, 20 mm", Instrument), (0, "lesion", Round), (1, "Lesion", Round.Replace("360", "390", StringComparison.Ordinal)) })
        {
            it = desk.Drawing.Keep(id, it.Version, it.Films[film].Sha256, null, name, drawing, CaseDesk.Anna).Value;
        }
    }

    public void Dispose() => desk.Dispose();

    [Fact]
    public void The_document_holds_canals_and_what_was_drawn_film_by_film_and_is_valid()
    {
        // One of the films has its scale from a known length.
        var it = desk.Store.Cases.Read(id).Value;
        Assert.True(new CalibrateFilm(desk.Store, desk.Shelf).ByKnownLength(id, it.Version, it.Films[1].Sha256, Straight.Replace(",\"pixel_spacing_mm\":0.03", string.Empty, StringComparison.Ordinal), "15,0", CaseDesk.Anna).IsGiven);

        var json = export.Json(id).Value;

        var schema = JsonSchema.FromText(DocumentSchema.Of("measurements"));
        Assert.True(schema.Evaluate(JsonDocument.Parse(json).RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List }).IsValid);
        var document = export.Document(id).Value;
        Assert.Equal([1, 0], document.Films.Select(film => film.Canals.Count));
        Assert.Equal([3, 1], document.Films.Select(film => film.Drawn.Count));
        var drawn = document.Films[0].Drawn[0];
        Assert.Equal((1, "=cmd|root", "length", 0.03, "entered"), (drawn.Number, drawn.Name, drawn.Kind, drawn.PixelSpacingMm, drawn.ScaleFrom));
        Assert.Equal(("length", "mm", 15.0), (drawn.Figures[0].Quantity, drawn.Figures[0].Unit, drawn.Figures[0].Value));
        Assert.Equal(desk.Clock.Now.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture), drawn.KeptUtc);
    }

    [Fact]
    public void The_command_gives_out_the_same_while_the_workbench_runs()
    {
        var table = CalledProgram.With("measurements", id.Value, "--data", desk.Folder);
        var json = CalledProgram.With("measurements", id.Value, "--data", desk.Folder, "--json");
        var missing = CalledProgram.With("measurements", "none", "--data", desk.Folder);

        Assert.Equal(((int)ExitCode.Done, Encoding.UTF8.GetString(export.Csv(id).Value)), (table.ExitCode, table.Output));
        Assert.Equal(((int)ExitCode.Done, Encoding.UTF8.GetString(export.Json(id).Value)), (json.ExitCode, json.Output));
        Assert.Equal((int)ExitCode.Refused, missing.ExitCode);
        Assert.Equal(export.Csv(new CaseId("none")).Refusal.Reason, JsonDocument.Parse(missing.Output).RootElement.GetProperty("refusal").GetProperty("reason").GetString());
    }

    [Fact]
    public void A_length_along_an_instrument_is_corrected_by_it_and_says_what_that_costs()
    {
        var corrected = Assert.Single(export.Document(id).Value.Films[0].Drawn[0].Corrected);

        // Seen 650 pixels of 0.03 mm for 20 mm: 15 mm become 15 · 20 / 19.5.
        Assert.Equal(("File, 20 mm", 15.385), (corrected.By, corrected.LengthMm));
        Assert.True(corrected.WiderMm > 0.2);
    }

    [Fact]
    public void A_lesion_of_one_name_on_two_films_is_told_with_its_change()
    {
        var change = Assert.Single(export.Document(id).Value.Changes);

        Assert.Equal("Lesion", change.Name);
        Assert.True(change.AreaChangeMm2 > 0);
        Assert.Equal(change.AreaMm2[1] - change.AreaMm2[0], change.AreaChangeMm2!.Value, 0.0002);
        Assert.True(change.AreaChangeTold);
    }

    [Fact]
    public void Once_a_film_has_another_scale_no_change_is_told_and_no_instrument_of_the_old_scale_corrects_a_length_of_the_new()
    {
        var it = desk.Store.Cases.Read(id).Value;
        var calibrating = new CalibrateFilm(desk.Store, desk.Shelf);
        it = calibrating.ByKnownLength(id, it.Version, it.Films[0].Sha256, Straight.Replace(",\"pixel_spacing_mm\":0.03", string.Empty, StringComparison.Ordinal), "20,0", CaseDesk.Anna).Value;

        var change = Assert.Single(export.Document(id).Value.Changes);
        Assert.Equal((null, false), (change.AreaChangeMm2, change.AreaChangeTold));
        Assert.Equal("One of the two was measured with another scale than its film has now: measure it anew on its film. Until then nothing is told of larger or smaller.", change.WhyNoChange);
        Assert.Equal(change.WhyNoChange, Assert.Single(ShownLesionChange.Of(it, one => calibrating.HasOtherScale(it, one))).Sentences[^1]);
        Assert.All(export.Document(id).Value.Films[0].Drawn, drawn => Assert.True(drawn.ScaleReplaced));

        it = desk.Drawing.MeasureAnew(id, it.Version, 1, CaseDesk.Anna).Value;
        var length = export.Document(id).Value.Films[0].Drawn[0];
        Assert.False(length.ScaleReplaced);
        Assert.Empty(length.Corrected);

        desk.Drawing.MeasureAnew(id, it.Version, 3, CaseDesk.Anna);
        Assert.Null(Assert.Single(export.Document(id).Value.Changes).WhyNoChange);
    }

    [Fact]
    public void The_table_has_a_row_each_units_in_its_header_and_no_formula()
    {
        var lines = Encoding.UTF8.GetString(export.Csv(id).Value)[1..].Split("\r\n", StringSplitOptions.RemoveEmptyEntries);

        Assert.Equal(6, lines.Length);
        Assert.Contains(",length (mm),\"length, low (mm)\",\"length, high (mm)\",", lines[0], StringComparison.Ordinal);
        Assert.Contains("area (mm2)", lines[0], StringComparison.Ordinal);
        Assert.Contains(",canal,", lines[1], StringComparison.Ordinal);
        Assert.Contains(",1,'=cmd|root,length,,0.03,entered,", lines[2], StringComparison.Ordinal);
        Assert.Contains("\"File, 20 mm\",known_length,20,0.03,entered,", lines[3], StringComparison.Ordinal);
        Assert.DoesNotContain(lines, line => line.Split(',').Any(cell => cell.TrimStart('"') is ['=' or '+' or '@', ..]));
    }

    [Fact]
    public void The_table_gives_of_a_canal_what_the_document_gives_and_every_correction_of_a_length()
    {
        var it = desk.Store.Cases.Read(id).Value;
        desk.Drawing.Keep(id, it.Version, it.Films[0].Sha256, null, "File, 19 mm", Instrument.Replace("\"true_length_mm\":20", "\"true_length_mm\":19.6", StringComparison.Ordinal), CaseDesk.Anna);

        var table = Encoding.UTF8.GetString(export.Csv(id).Value);

        foreach (var column in new[]
        {
            "unfilled canal width, least (mm)", "unfilled canal width, greatest (mm)", "filling density, least (percent of its median)", "voids", "longest void (mm)", "thinnest wall left (mm)",
            "thinnest wall right (mm)", "filling size (mm)", "filling taper (mm per mm)", "nearest size (ISO 3630-1)", "off centre is a sign", "No voids", "what the film’s scale means",
        })
        {
            Assert.Contains(column, table, StringComparison.Ordinal);
        }

        Assert.Contains("\"File, 20 mm; File, 19 mm\",15.385; 15.077,", table, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_removed_is_not_given_out()
    {
        var it = desk.Store.Cases.Read(id).Value;
        desk.Drawing.Remove(id, it.Version, 4, CaseDesk.Anna);

        Assert.Single(export.Document(id).Value.Films);
        Assert.Empty(export.Document(id).Value.Changes);
    }

    [Fact]
    public void The_document_names_no_patient() =>
        Assert.DoesNotContain("4711", Encoding.UTF8.GetString(export.Json(id).Value), StringComparison.Ordinal);

    private DentalCase Attach(DentalCase it, byte[] bytes, FilmMoment moment) =>
        desk.Films.Attach(it.Id, it.Version, desk.Films.TakeIn([new SentFile("film.png", bytes)]).Value, FilmsDesk.Before with { Moment = moment }, Confirmation.None, CaseDesk.Anna).Value;
}
