using System.Net;
using System.Text;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Records.Events;
using Secondpass.Tests.Job;

namespace Secondpass.Tests.App;

public sealed class DrawPagesTests(RunningWorkbench bench)
{
    private const string Straight = """{"schema":1,"kind":"length","points_px":[[300,200],[300,700]],"pixel_spacing_mm":0.03}""";

    [Fact]
    public async Task What_is_drawn_is_measured_while_it_is_drawn_and_refused_in_words()
    {
        var (it, film) = Open("DP-1");

        var answer = await Draw(it, film, Straight);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("length 15.0 mm (14.8–15.2)", await Text(answer), StringComparison.Ordinal);

        var outside = await Draw(it, film, Straight.Replace("700", "99700", StringComparison.Ordinal));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, outside.StatusCode);
        Assert.Contains("A point at (300, 99700) lies outside the film", await Text(outside), StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Draw(it, film, "nonsense")).StatusCode);
    }

    [Fact]
    public async Task The_second_of_two_who_draw_at_once_is_told_who_was_first_and_what_was_drawn_comes_back()
    {
        var (it, film) = Open("DP-2");
        var path = $"/cases/{it.Id}/films/{film}/draw";
        (string, string)[] drawn = [("Form.Version", "2"), ("Form.Drawing", Straight)];
        Assert.Equal(HttpStatusCode.Found, (await bench.Post(path, "draw", [.. drawn, ("Form.Name", "Root")])).StatusCode);

        var page = await Text(await bench.Post(path, "draw", [.. drawn, ("Form.Name", "Crown")]));

        Assert.Contains("changed this case meanwhile", page, StringComparison.Ordinal);
        Assert.Contains("“Root” drawn on a film", page, StringComparison.Ordinal);
        Assert.Contains("value=\"Crown\"", page, StringComparison.Ordinal);
        Assert.Contains("[[300,200],[300,700]]", page, StringComparison.Ordinal);
        Assert.Single(bench.Store.Cases.Read(it.Id).Value.Drawn);
    }

    [Fact]
    public async Task Everything_measured_is_given_out_as_files_and_the_history_says_what_was_done()
    {
        var (it, film) = Open("DP-3");
        var path = $"/cases/{it.Id}/films/{film}/draw";
        await bench.Post(path, "draw", ("Form.Version", "2"), ("Form.Drawing", Straight), ("Form.Name", "Root"));
        await bench.Post(path, "draw", ("Form.Version", "3"), ("Form.Drawing", Straight), ("Form.Number", "1"), ("Form.Name", "Palatal root"));
        await bench.Post(path, "draw", ("Form.Version", "4"), ("Form.Remove", "1"));
        await bench.Post(path, "draw", ("Form.Version", "5"), ("Form.PutBack", "1"));

        var csv = await bench.Client.GetAsync($"/api/cases/{it.Id}/measurements.csv", TestContext.Current.CancellationToken);
        Assert.Equal("measurements.csv", csv.Content.Headers.ContentDisposition!.FileName);
        Assert.Contains("Palatal root,length,", await Text(csv), StringComparison.Ordinal);
        Assert.Contains("\"name\":\"Palatal root\"", await bench.Read($"/api/cases/{it.Id}/measurements.json"), StringComparison.Ordinal);
        var history = WebUtility.HtmlDecode(await bench.Read($"/cases/{it.Id}"));
        Assert.Contains("“Root” on a film renamed to “Palatal root”", history, StringComparison.Ordinal);
        Assert.Contains("“Palatal root” removed from a film", history, StringComparison.Ordinal);
        Assert.Contains("“Palatal root” put back on a film", history, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_known_length_becomes_the_film_s_scale_by_the_page_and_what_was_refused_comes_back_as_it_was_typed()
    {
        const string line = """{"schema":1,"kind":"length","points_px":[[300,100],[300,800]]}""";
        var (it, film) = Open("DP-4");
        var path = $"/cases/{it.Id}/films/{film}/draw";
        Assert.Contains("This film has no scale yet", await bench.Read(path), StringComparison.Ordinal);

        var refused = await Text(await bench.Post(path, "draw", ("Form.Version", "2"), ("Form.Drawing", line), ("Form.Name", "Length 1"), ("Form.TrueLength", "21 cm"), ("Form.AsScale", "true")));
        Assert.Contains("The known length: “21 cm” is not a number.", refused, StringComparison.Ordinal);
        Assert.Contains("value=\"21 cm\"", refused, StringComparison.Ordinal);
        Assert.Contains("[[300,100],[300,800]]", refused, StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.Found, (await bench.Post(path, "draw", ("Form.Version", "2"), ("Form.Drawing", line), ("Form.TrueLength", "21"), ("Form.AsScale", "true"))).StatusCode);
        Assert.Contains("0.03 mm per pixel, from a known length of 21 mm on the film, ±3.0 %", await bench.Read(path), StringComparison.Ordinal);
        Assert.Contains("from a known length of 21 mm on the film", await bench.Read($"/cases/{it.Id}/films/{film}"), StringComparison.Ordinal);
        Assert.Contains("length 15.0 mm (14.5–15.5)", await Text(await Draw(it, film, Straight.Replace(",\"pixel_spacing_mm\":0.03", string.Empty, StringComparison.Ordinal))), StringComparison.Ordinal);
        Assert.Contains("Scale from a known length of 21 mm on it", await bench.Read($"/cases/{it.Id}/films"), StringComparison.Ordinal);

        var late = await Text(await bench.Post(path, "draw", ("Form.Version", "2"), ("Form.Drawing", line), ("Form.TrueLength", "22"), ("Form.AsScale", "true")));
        Assert.Contains("changed this case meanwhile", late, StringComparison.Ordinal);
        Assert.Contains("a film’s scale taken from a known length of 21 mm", late, StringComparison.Ordinal);
        Assert.Contains("value=\"22\"", late, StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.Found, (await bench.Post(path, "draw", ("Form.Version", "3"), ("Form.TakeScaleBack", "true"))).StatusCode);
        Assert.Contains("This film has no scale yet", await bench.Read(path), StringComparison.Ordinal);
        Assert.Contains("a film’s scale from a known length taken back", await bench.Read($"/cases/{it.Id}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Measurements_of_a_case_that_is_not_there_are_refused() => Assert.Equal(
        HttpStatusCode.UnprocessableEntity,
        (await bench.Client.GetAsync("/api/cases/00000000000000000000000000000000/measurements.csv", TestContext.Current.CancellationToken)).StatusCode);

    private (DentalCase Case, string Film) Open(string number)
    {
        var author = new Author("Anna", "desk-1");
        var film = bench.Store.KeepFilm(DemoFilm.Before(DemoFilm.Incisor)).Value;
        var it = bench.Store.Cases.Open(new CaseOpened(new Patient(number, null), ToothNumber.Parse("16").Value, new Referral(null, null, "Pain", null, false, null)), author).Value;
        return (bench.Store.Cases.Append(it.Id, 1, author, [new FilmAttached(new CaseFilm(film, FilmMoment.Before, TubeShift.Straight, null))]).Value, film);
    }

    private async Task<HttpResponseMessage> Draw(DentalCase it, string film, string drawing)
    {
        await bench.Read("/cases");
        return await bench.Client.PostAsync($"/api/cases/{it.Id}/films/{film}/draw", new StringContent(drawing, Encoding.UTF8, "application/json"), TestContext.Current.CancellationToken);
    }

    private static async Task<string> Text(HttpResponseMessage answer) =>
        WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
}
