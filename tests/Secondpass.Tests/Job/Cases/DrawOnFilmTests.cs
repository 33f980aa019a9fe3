using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Job.Cases;
using Secondpass.Tests.Job.Incoming;

namespace Secondpass.Tests.Job.Cases;

public sealed class DrawOnFilmTests : IDisposable
{
    private const string Straight = """{"schema":1,"kind":"length","points_px":[[100,100],[400,500]],"pixel_spacing_mm":0.03}""";

    private readonly CaseDesk desk = new();
    private readonly CaseId id;
    private readonly string film;

    public DrawOnFilmTests()
    {
        var it = desk.Open();
        id = it.Id;
        it = Attach(it, DemoFilm.Before(DemoFilm.Incisor));
        film = it.Films[0].Sha256;
    }

    private DentalCase Now => desk.Store.Cases.Read(id).Value;

    public void Dispose() => desk.Dispose();

    [Fact]
    public void What_is_drawn_is_kept_under_its_name_with_points_scale_and_figures_and_read_back()
    {
        Keep("Root", Straight);

        var root = Assert.Single(Now.Drawn);
        Assert.Equal((1, "Root", film), (root.Number, root.Name, root.FilmSha256));
        Assert.Equal([new PixelPoint(100, 100), new PixelPoint(400, 500)], root.Shape.Points);
        Assert.Equal(new DrawnScale(0.03, CalibrationSource.Entered), root.Scale);
        Assert.Equal(15, root.Figure(DrawnQuantity.Length)!.Value.Value, 1e-9);
    }

    [Fact]
    public void It_is_renamed_drawn_anew_removed_and_put_back_and_every_step_stays_on_record()
    {
        Keep("Root", Straight);
        Assert.True(desk.Drawing.Rename(id, Now.Version, 1, " Palatal root ", CaseDesk.Anna).IsGiven);
        Assert.Equal("Palatal root", Assert.Single(Now.Drawn).Name);

        Assert.True(desk.Drawing.Keep(id, Now.Version, film, 1, "Palatal root", Straight.Replace("500", "900", StringComparison.Ordinal), CaseDesk.Anna).IsGiven);
        Assert.Equal(0.03 * double.Hypot(300, 800), Assert.Single(Now.Drawn).Figure(DrawnQuantity.Length)!.Value.Value, 1e-9);

        Assert.True(desk.Drawing.Remove(id, Now.Version, 1, CaseDesk.Anna).IsGiven);
        Assert.Empty(Now.Drawn);
        Assert.Equal("Palatal root", Assert.Single(Now.DrawnRemoved).Name);

        Assert.True(desk.Drawing.PutBack(id, Now.Version, 1, CaseDesk.Anna).IsGiven);
        Assert.Empty(Now.DrawnRemoved);
        Assert.Equal(new PixelPoint(400, 900), Assert.Single(Now.Drawn).Shape.Points[1]);
        Assert.Equal(
            [typeof(MeasurementDrawn), typeof(MeasurementChanged), typeof(MeasurementChanged), typeof(MeasurementRemoved), typeof(MeasurementPutBack)],
            desk.Store.Cases.History(id).Value.Select(line => line.Event.GetType()).Where(type => type.Name.StartsWith("Measurement", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_number_is_not_given_twice_even_after_its_measurement_was_removed()
    {
        Keep("Root", Straight);
        desk.Drawing.Remove(id, Now.Version, 1, CaseDesk.Anna);

        Keep("Crown", Straight);

        Assert.Equal(2, Assert.Single(Now.Drawn).Number);
    }

    [Fact]
    public void Of_two_who_draw_at_once_the_second_is_told_who_was_first_and_nothing_of_it_is_stored()
    {
        var version = Now.Version;
        Keep("Root", Straight);

        var refusal = desk.Drawing.Keep(id, version, film, null, "Crown", Straight, CaseDesk.Ben).Refusal;

        Assert.Equal("case_changed", refusal.Code);
        Assert.Contains("Anna changed this case meanwhile", refusal.Reason, StringComparison.Ordinal);
        Assert.Equal("Root", Assert.Single(Now.Drawn).Name);
    }

    [Theory]
    [InlineData("  ", "no_name", "What was drawn has no name.")]
    [InlineData("rOOT", "name_taken", "“rOOT” is drawn on this film already.")]
    [InlineData("12345678901234567890123456789012345678901", "name_too_long", "“12345678901234567890123456789012345678901” has 41 characters; a name has at most 40.")]
    public void Refuses_a_name_that_can_t_be_told_apart(string name, string code, string reason)
    {
        Keep("Root", Straight);

        Refuses(desk.Drawing.Keep(id, Now.Version, film, null, name, Straight, CaseDesk.Anna), code, reason);
    }

    [Fact]
    public void A_name_that_was_taken_meanwhile_keeps_a_removed_measurement_from_being_put_back()
    {
        Keep("Root", Straight);
        desk.Drawing.Remove(id, Now.Version, 1, CaseDesk.Anna);
        Keep("Root", Straight);

        Refuses(desk.Drawing.PutBack(id, Now.Version, 1, CaseDesk.Anna), "name_taken", "“Root” is drawn on this film already.");
    }

    [Fact]
    public void Refuses_what_is_not_there_any_more()
    {
        const string Reason = "This measurement is not on the film any more.";
        Refuses(desk.Drawing.Rename(id, Now.Version, 7, "Root", CaseDesk.Anna), "measurement_not_here", Reason);
        Refuses(desk.Drawing.Remove(id, Now.Version, 7, CaseDesk.Anna), "measurement_not_here", Reason);
        Refuses(desk.Drawing.PutBack(id, Now.Version, 7, CaseDesk.Anna), "measurement_not_here", Reason);
        Refuses(desk.Drawing.Keep(id, Now.Version, film, 7, "Root", Straight, CaseDesk.Anna), "measurement_not_here", Reason);
    }

    [Fact]
    public void Refuses_a_film_of_another_case_and_a_page_on_which_nothing_is_drawn()
    {
        Refuses(desk.Drawing.Keep(id, Now.Version, new string('0', 64), null, "Root", Straight, CaseDesk.Anna), "film_of_another_case", "This film does not belong to the case.");
        Refuses(desk.Drawing.Keep(id, Now.Version, film, null, "Root", "", CaseDesk.Anna), "nothing_drawn", "Nothing is drawn yet.");
    }

    [Fact]
    public void A_drawing_that_is_not_understood_is_refused_with_its_place() => Assert.StartsWith(
        "Line 1, column 20, kind: “lenght” is not a word known here; expected length, angle, angle_of_lines, lesion, known_length.",
        desk.Drawing.Keep(id, Now.Version, film, null, "Root", """{"schema":1,"kind":"lenght","points_px":[]}""", CaseDesk.Anna).Refusal.Reason,
        StringComparison.Ordinal);

    private void Keep(string name, string drawing) => Assert.True(desk.Drawing.Keep(id, Now.Version, film, null, name, drawing, CaseDesk.Anna).IsGiven);

    private DentalCase Attach(DentalCase it, byte[] bytes) =>
        desk.Films.Attach(it.Id, it.Version, desk.Films.TakeIn([new SentFile("film.png", bytes)]).Value, FilmsDesk.Before, Confirmation.None, CaseDesk.Anna).Value;

    private static void Refuses(Answer<DentalCase> answer, string code, string reason)
    {
        Assert.Equal((code, reason), (answer.Refusal.Code, answer.Refusal.Reason));
        Assert.NotEmpty(answer.Refusal.Remedy);
    }
}
