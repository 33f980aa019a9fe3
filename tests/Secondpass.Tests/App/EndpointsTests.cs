using System.Net;
using System.Net.Http.Headers;
using System.Runtime.InteropServices;
using System.Text;
using System.Text.Json;
using Secondpass.Radiographs.Read;
using Secondpass.Tests.Job;

namespace Secondpass.Tests.App;

public sealed class EndpointsTests(RunningWorkbench workbench)
{
    private static CancellationToken Cancelled => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Gives_a_film_s_16_bit_pixels_back_low_byte_first()
    {
        var film = await Receive(DemoFilm.Before(DemoFilm.Molar));
        var read = FilmReader.Read(DemoFilm.Before(DemoFilm.Molar)).Value;

        var bytes = await workbench.Client.GetByteArrayAsync($"/api/films/{Text(film, "id")}/pixels", Cancelled);

        Assert.Equal(read.Width, film.GetProperty("width").GetInt32());
        Assert.Equal(read.Height, film.GetProperty("height").GetInt32());
        Assert.Equal(read.GreatestValue, film.GetProperty("greatest_value").GetInt32());
        Assert.Equal(2 * read.Width * read.Height, bytes.Length);
        Assert.Equal(read.Pixels[12_345], bytes[24_690] + (256 * bytes[24_691]));
        Assert.True(MemoryMarshal.Cast<byte, ushort>(bytes).SequenceEqual(read.Pixels) || !BitConverter.IsLittleEndian);
    }

    [Fact]
    public async Task Takes_several_files_at_once_and_says_of_each_what_became_of_it()
    {
        using var form = new MultipartFormDataContent
        {
            { new ByteArrayContent(DemoFilm.Before(DemoFilm.Incisor)), "film", "one.png" },
            { new ByteArrayContent("no film"u8.ToArray()), "film", "two.txt" },
            { new ByteArrayContent(DemoFilm.After(DemoFilm.Incisor)), "film", "three.png" },
        };

        var films = (await Json(await workbench.Client.PostAsync("/api/films", form, Cancelled))).GetProperty("films").EnumerateArray().ToArray();

        Assert.Equal(["one.png", "two.txt", "three.png"], films.Select(film => Text(film, "name")));
        Assert.Equal([true, false, true], films.Select(film => film.GetProperty("film").ValueKind == JsonValueKind.Object));
        Assert.NotEmpty(Text(films[1].GetProperty("refused"), "remedy"));
    }

    [Fact]
    public async Task Shows_the_recovery_sheet_to_its_own_pages_and_keeps_it_out_of_every_cache()
    {
        using var form = new FormUrlEncodedContent([]);

        var answer = await workbench.Client.PostAsync("/api/recovery-sheet", form, Cancelled);

        Assert.StartsWith("Secondpass recovery sheet\n", await answer.Content.ReadAsStringAsync(Cancelled), StringComparison.Ordinal);
        Assert.Equal("text/plain", answer.Content.Headers.ContentType!.MediaType);
        Assert.True(answer.Headers.CacheControl!.NoStore);
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.Client.GetAsync("/api/recovery-sheet", Cancelled)).StatusCode);
    }

    [Fact]
    public async Task Refuses_what_is_no_film_and_stores_nothing()
    {
        var before = workbench.StoredFilms;

        var answer = await workbench.Client.PostAsync("/api/films", Bytes("no film"u8.ToArray()), Cancelled);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        await IsRefusal(answer);
        Assert.Equal(before, workbench.StoredFilms);
    }

    [Fact]
    public async Task Refuses_a_file_larger_than_64_MB()
    {
        var answer = await workbench.Client.PostAsync("/api/films", Bytes(new byte[(64 << 20) + 1]), Cancelled);

        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
        var refusal = await IsRefusal(answer);
        Assert.Equal("The file is larger than 64 MB, the most that is taken in.", Text(refusal, "reason"));
    }

    [Fact]
    public async Task Traces_a_canal_from_its_marks()
    {
        var id = Text(await Receive(DemoFilm.Before(DemoFilm.Incisor)), "id");
        var canal = JsonSerializer.Deserialize<JsonElement>(DemoFilm.CaseText(DemoFilm.Incisor)).GetProperty("canals")[0];
        var scale = JsonSerializer.Deserialize<JsonElement>(DemoFilm.CaseText(DemoFilm.Incisor)).GetProperty("pixel_spacing_mm").GetDouble();

        var answer = await Json(await Post($"/api/films/{id}/trace", new { clicks = canal, scale }));

        var branch = answer.GetProperty("branches")[0];
        var path = branch.GetProperty("path").EnumerateArray().Select(point => (X: point[0].GetDouble(), Y: point[1].GetDouble())).ToArray();
        var end = canal.GetProperty("trace_px").EnumerateArray().Last();
        Assert.Equal(Text(canal, "name"), Text(branch, "name"));
        Assert.InRange(double.Hypot(path[^1].X - end[0].GetDouble(), path[^1].Y - end[1].GetDouble()), 0, 8);
        Assert.Contains(") long; filling ends", Text(branch, "words"), StringComparison.Ordinal);
        Assert.NotEmpty(branch.GetProperty("edges").EnumerateArray());
        Assert.Contains(branch.GetProperty("figures").EnumerateArray(), figure => figure[0].GetString() == "Curve after Schneider");
    }

    [Theory]
    [InlineData("""{"clicks":{"name":"P","trace_px":[[5,5],[9000,5]]},"scale":null}""", HttpStatusCode.UnprocessableEntity)]
    [InlineData("""{"clicks":{"name":"P","trace_px":[[5,5]]},"scale":null}""", HttpStatusCode.UnprocessableEntity)]
    [InlineData("""{"clicks":{"name":"P","trace_px":[[5,5],[50,50]]},"scale":3}""", HttpStatusCode.UnprocessableEntity)]
    [InlineData("""{"clicks":null}""", HttpStatusCode.UnprocessableEntity)]
    [InlineData("{}", HttpStatusCode.UnprocessableEntity)]
    [InlineData("[]", HttpStatusCode.BadRequest)]
    [InlineData("click", HttpStatusCode.BadRequest)]
    public async Task Refuses_marks_that_make_no_sense(string body, HttpStatusCode status)
    {
        var id = Text(await Receive(DemoFilm.Before(DemoFilm.Incisor)), "id");

        var answer = await workbench.Client.PostAsync($"/api/films/{id}/trace", new StringContent(body), Cancelled);

        Assert.Equal(status, answer.StatusCode);
        await IsRefusal(answer);
    }

    [Theory]
    [InlineData("GET", "/api/films/aaaa/pixels")]
    [InlineData("GET", "/api/films/..%2f..%2fsecondpass.db")]
    [InlineData("GET", "/api/comparisons/aaaa/aligned")]
    [InlineData("GET", "/api/comparisons/aaaa/residue")]
    [InlineData("GET", "/api/comparisons/aaaa/sheet.pdf")]
    [InlineData("GET", "/api/kept/aaaa")]
    [InlineData("GET", "/api/kept/aaaa/sheet.pdf")]
    [InlineData("POST", "/api/examples/no-such")]
    public async Task Says_that_something_is_not_here(string method, string path)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), path);

        var answer = await workbench.Client.SendAsync(request, Cancelled);

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        await IsRefusal(answer);
    }

    [Fact]
    public async Task Compares_shows_keeps_and_removes()
    {
        var opened = await Json(await workbench.Client.PostAsync($"/api/examples/{DemoFilm.Incisor}", null, Cancelled));
        var shown = await Json(await Post("/api/comparisons", new { before = Text(opened, "before"), after = Text(opened, "after"), @case = opened.GetProperty("case") }));
        var id = Text(shown, "id");
        var pixels = FilmReader.Read(DemoFilm.Before(DemoFilm.Incisor)).Value.Pixels.Length;

        Assert.Equal(1, shown.GetProperty("document").GetProperty("schema").GetInt32());
        Assert.StartsWith("<svg", Text(shown.GetProperty("branches")[0], "strip"), StringComparison.Ordinal);
        Assert.Equal(2 * pixels, (await workbench.Client.GetByteArrayAsync($"/api/comparisons/{id}/aligned", Cancelled)).Length);
        var residue = await workbench.Client.GetByteArrayAsync($"/api/comparisons/{id}/residue", Cancelled);
        Assert.Equal(pixels, residue.Length);
        Assert.All(residue.Distinct(), value => Assert.InRange(value, 0, 3));
        Assert.Equal("%PDF-"u8.ToArray(), (await workbench.Client.GetByteArrayAsync($"/api/comparisons/{id}/sheet.pdf", Cancelled))[..5]);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Post($"/api/comparisons/{id}/keep", new { label = " " })).StatusCode);
        var kept = Text(await Json(await Post($"/api/comparisons/{id}/keep", new { label = "visit <2>" })), "id");
        Assert.Equal("%PDF-"u8.ToArray(), (await workbench.Client.GetByteArrayAsync($"/api/kept/{kept}/sheet.pdf", Cancelled))[..5]);
        Assert.Equal(Text(opened, "before"), Text(await Json(await workbench.Client.GetAsync($"/api/kept/{kept}", Cancelled)), "before"));

        var removed = await workbench.Client.PostAsync($"/api/kept/{kept}/remove", null, Cancelled);
        Assert.Equal(HttpStatusCode.Redirect, removed.StatusCode);
        Assert.Null(workbench.Store.FindComparison(kept));
    }

    [Fact]
    public async Task Throws_a_comparison_away_with_its_films()
    {
        var before = Text(await Receive(DemoFilm.Before("upper-premolar-two-roots")), "id");
        var after = Text(await Receive(DemoFilm.After("upper-premolar-two-roots")), "id");
        var marks = JsonSerializer.Deserialize<JsonElement>(DemoFilm.CaseText("upper-premolar-two-roots"));
        var answer = await Post("/api/comparisons", new { before, after, @case = marks });
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync(Cancelled));

        var thrown = await workbench.Client.DeleteAsync($"/api/comparisons/{Text(await Json(answer), "id")}", Cancelled);

        Assert.Equal(HttpStatusCode.NoContent, thrown.StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.Client.GetAsync($"/api/films/{before}", Cancelled)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.Client.GetAsync($"/api/films/{after}", Cancelled)).StatusCode);
    }

    [Fact]
    public async Task Starting_over_in_one_tab_leaves_the_film_of_another()
    {
        const string Films = "lower-premolar-beyond-the-end";
        using var one = Tab("one");
        using var other = Tab("other");
        var thrown = await Compared(one, Films);
        var (comparison, before, after) = await Compared(other, Films);

        await one.DeleteAsync($"/api/comparisons/{thrown.Id}", Cancelled);
        await StartOver(one, before, after);

        Assert.Equal(HttpStatusCode.OK, (await other.GetAsync($"/api/films/{before}/pixels", Cancelled)).StatusCode);
        var kept = Text(await Json(await other.PostAsync($"/api/comparisons/{comparison}/keep", Written(new { label = "still there" }), Cancelled)), "id");

        await other.PostAsync($"/api/kept/{kept}/remove", null, Cancelled);
        await StartOver(other, before, after);
        Assert.False(workbench.Store.ReadFilm(before).IsGiven);
    }

    [Fact]
    public async Task A_film_goes_when_the_last_tab_that_has_it_open_starts_over()
    {
        using var one = Tab("one");
        using var other = Tab("other");
        var film = await Opened(one, DemoFilm.Before("lower-molar-dressing"));
        await Opened(other, DemoFilm.Before("lower-molar-dressing"));

        await StartOver(one, film);
        await StartOver(one, film);
        Assert.True(workbench.Store.ReadFilm(film).IsGiven);

        await StartOver(other, film);
        Assert.False(workbench.Store.ReadFilm(film).IsGiven);
    }

    [Fact]
    public async Task A_tab_that_was_closed_keeps_no_film_from_being_thrown_away()
    {
        using var closed = Tab("closed");
        using var other = Tab("other");
        var film = await Opened(closed, DemoFilm.After("lower-molar-dressing"));
        await other.GetAsync($"/api/films/{film}", Cancelled);

        await closed.DeleteAsync($"/api/films/{film}/in-use", Cancelled);
        Assert.True(workbench.Store.ReadFilm(film).IsGiven);

        await StartOver(other, film);
        Assert.False(workbench.Store.ReadFilm(film).IsGiven);
    }

    [Fact]
    public async Task Removing_a_kept_comparison_leaves_the_film_that_a_tab_has_open()
    {
        using var one = Tab("one");
        using var other = Tab("other");
        var (comparison, before, after) = await Compared(one, "lower-premolar-beyond-the-end");
        var kept = Text(await Json(await one.PostAsync($"/api/comparisons/{comparison}/keep", Written(new { label = "to be removed" }), Cancelled)), "id");
        await one.DeleteAsync($"/api/films/{before}/in-use", Cancelled);
        await one.DeleteAsync($"/api/films/{after}/in-use", Cancelled);
        await other.PutAsync($"/api/films/{before}/in-use", null, Cancelled);

        await one.PostAsync($"/api/kept/{kept}/remove", null, Cancelled);

        Assert.True(workbench.Store.ReadFilm(before).IsGiven);
        Assert.False(workbench.Store.ReadFilm(after).IsGiven);
        await StartOver(other, before);
    }

    private HttpClient Tab(string name)
    {
        var tab = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = workbench.Client.BaseAddress };
        tab.DefaultRequestHeaders.Add("Secondpass-Page", name);
        return tab;
    }

    private static async Task<string> Opened(HttpClient tab, byte[] file) => Text(await Json(await tab.PostAsync("/api/films", Bytes(file), Cancelled)), "id");

    private static async Task<(string Id, string Before, string After)> Compared(HttpClient tab, string films)
    {
        var before = await Opened(tab, DemoFilm.Before(films));
        var after = await Opened(tab, DemoFilm.After(films));
        var marks = JsonSerializer.Deserialize<JsonElement>(DemoFilm.CaseText(films));
        return (Text(await Json(await tab.PostAsync("/api/comparisons", Written(new { before, after, @case = marks }), Cancelled)), "id"), before, after);
    }

    private static async Task StartOver(HttpClient tab, params string[] films)
    {
        foreach (var film in films)
        {
            await tab.DeleteAsync($"/api/films/{film}", Cancelled);
        }
    }

    private async Task<JsonElement> Receive(byte[] file) => await Json(await workbench.Client.PostAsync("/api/films", Bytes(file), Cancelled));

    private Task<HttpResponseMessage> Post(string path, object body) =>
        workbench.Client.PostAsync(path, Written(body), Cancelled);

    private static StringContent Written(object body) => new(JsonSerializer.Serialize(body), Encoding.UTF8, "application/json");

    private static ByteArrayContent Bytes(byte[] bytes)
    {
        var content = new ByteArrayContent(bytes);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        return content;
    }

    private static async Task<JsonElement> Json(HttpResponseMessage answer)
    {
        var text = await answer.Content.ReadAsStringAsync(Cancelled);
        Assert.True(answer.IsSuccessStatusCode, text);
        return JsonSerializer.Deserialize<JsonElement>(text);
    }

    private static async Task<JsonElement> IsRefusal(HttpResponseMessage answer)
    {
        var refusal = JsonSerializer.Deserialize<JsonElement>(await answer.Content.ReadAsStringAsync(Cancelled));
        Assert.Matches("^[a-z0-9_]+$", Text(refusal, "code"));
        Assert.NotEmpty(Text(refusal, "reason"));
        Assert.NotEmpty(Text(refusal, "remedy"));
        Assert.DoesNotContain("   at ", refusal.GetRawText(), StringComparison.Ordinal);
        return refusal;
    }

    private static string Text(JsonElement json, string name) => json.GetProperty(name).GetString()!;
}
