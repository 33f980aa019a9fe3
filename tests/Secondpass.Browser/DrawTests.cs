using System.Text.Json;
using Microsoft.Playwright;
using Secondpass.Domain.Films;

namespace Secondpass.Browser;

/// <summary>Lengths, angles and lesions drawn on a film of a case by hand.</summary>
public sealed class DrawTests(Workbench workbench, Chromium chromium)
{
    private static readonly FilmFiles Films = FilmFiles.ThreeCanals;
    private static readonly PixelPoint Middle = new(Films.Width / 2.0, Films.Height / 2.0);

    [Fact]
    public async Task A_length_and_a_lesion_are_drawn_kept_there_after_a_reload_renamed_removed_put_back_and_exported()
    {
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        await OpenFilm(bench, "D-1");
        var (next, figures, name) = (page.Locator("#next"), page.Locator("#figures"), page.Locator("#name"));

        await Assertions.Expect(next).ToHaveTextAsync("Click one end.");
        await bench.ClickFilm(Films, Off(-60, -150), "film");
        await Assertions.Expect(next).ToHaveTextAsync("Click the other end.");
        await bench.ClickFilm(Films, Off(-60, 150), "film");
        await Assertions.Expect(page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "no scale" })).ToBeVisibleAsync();
        await page.GetByLabel("Size of one pixel").FillAsync("0.03");
        await Assertions.Expect(figures).ToContainTextAsync("length 9.0 mm");
        await Assertions.Expect(figures).ToContainTextAsync("from the clicks");
        await name.FillAsync("Mesial root");
        await page.ReloadAsync();
        await bench.Ready();
        await Assertions.Expect(figures).ToContainTextAsync("length 9.0 mm");
        await Assertions.Expect(name).ToHaveValueAsync("Mesial root");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep it" }).ClickAsync();
        await Assertions.Expect(page.Locator(".kept li")).ToHaveCountAsync(1);
        await bench.Ready();
        await Assertions.Expect(next).ToHaveTextAsync("Click one end.");

        await page.GetByRole(AriaRole.Radio, new() { Name = "Lesion", Exact = true }).CheckAsync();
        await DrawRound(bench, 60);
        await Assertions.Expect(figures).ToContainTextAsync("largest diameter 3.6 mm");
        await Assertions.Expect(name).ToHaveValueAsync("Lesion 1");
        await page.LookAtEverySize("case-draw-lesion");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep it" }).ClickAsync();
        await Assertions.Expect(page.Locator(".kept li")).ToHaveCountAsync(2);

        await page.ReloadAsync();
        await bench.Ready();
        await page.GetByRole(AriaRole.Button, new() { Name = "Change or rename Lesion 1" }).ClickAsync();
        await name.FillAsync("=lesion");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the change" }).ClickAsync();
        await Assertions.Expect(page.Locator(".kept li").Nth(1)).ToContainTextAsync("=lesion");
        await page.GetByRole(AriaRole.Button, new() { Name = "Remove Mesial root" }).ClickAsync();
        await Assertions.Expect(page.GetByText("“Mesial root” was removed.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Put Mesial root back" }).ClickAsync();
        await Assertions.Expect(page.Locator(".kept li").First).ToContainTextAsync("length 9.0 mm");
        await page.LookAtEverySize("case-draw-kept");

        var table = await page.APIRequest.GetAsync((await page.GetByRole(AriaRole.Link, new() { Name = "All as a table" }).GetAttributeAsync("href"))!);
        Assert.Contains(",'=lesion,lesion,", await table.TextAsync(), StringComparison.Ordinal);
        var json = await bench.Json((await page.GetByRole(AriaRole.Link, new() { Name = "All as JSON" }).GetAttributeAsync("href"))!);
        Assert.Equal(["Mesial root", "=lesion"], json.GetProperty("films")[0].GetProperty("drawn").EnumerateArray().Select(one => one.GetProperty("name").GetString()));

        // A film without a scale is said in its place; nothing else was complained about.
        Assert.All(bench.Complaints, complaint => Assert.Contains("422", complaint, StringComparison.Ordinal));
    }

    // The pixels are held back until the picture was looked at: it lies where the film will, and in the same greys.
    [Fact]
    public async Task A_film_is_seen_before_its_pixels_have_come_and_looks_the_same_when_they_have()
    {
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        await OpenFilm(bench, "D-7");
        var held = new TaskCompletionSource();
        await page.RouteAsync("**/pixels", async route =>
        {
            await held.Task;
            await route.ContinueAsync();
        });
        await page.ReloadAsync(new() { WaitUntil = WaitUntilState.Commit });
        var (picture, canvas) = (page.Locator("#film [data-part=first-look]"), page.Locator("#film canvas"));
        await page.WaitForFunctionAsync("() => document.querySelector('#film [data-part=first-look]')?.naturalWidth > 0");
        var (place, grey) = ((await picture.BoundingBoxAsync())!, await MiddleGrey(picture));

        held.SetResult();
        await bench.Ready();
        await Assertions.Expect(picture).ToHaveCountAsync(0);
        var there = (await canvas.BoundingBoxAsync())!;
        Assert.Equal((there.X, there.Y, there.Width, there.Height), (place.X, place.Y, place.Width, place.Height));
        Assert.InRange(await MiddleGrey(canvas), grey - 2, grey + 2);
        Assert.Empty(bench.Complaints);

        // Mean grey of the film's middle fifth; on a canvas the film is as large as it goes, in the middle.
        static Task<double> MiddleGrey(ILocator of) => of.EvaluateAsync<double>(
            """
            (shown, share) => {
              const [width, height] = [shown.naturalWidth ?? shown.width, shown.naturalHeight ?? shown.height];
              const film = { width: Math.min(width, height * share), height: Math.min(height, width / share) };
              const context = new OffscreenCanvas(40, 40).getContext('2d');
              context.drawImage(shown, width / 2 - film.width / 10, height / 2 - film.height / 10, film.width / 5, film.height / 5, 0, 0, 40, 40);
              const { data } = context.getImageData(0, 0, 40, 40);
              return data.filter((_, i) => i % 4 === 0).reduce((sum, value) => sum + value, 0) / 1600;
            }
            """,
            (double)Films.Width / Films.Height);
    }

    [Fact]
    public async Task A_point_is_dragged_nudged_by_keys_taken_back_and_an_outline_that_crosses_itself_is_said()
    {
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        await OpenFilm(bench, "D-2");
        await page.GetByLabel("Size of one pixel").FillAsync("0.03");
        await page.GetByRole(AriaRole.Radio, new() { Name = "Angle", Exact = true }).CheckAsync();
        foreach (var at in new[] { Off(150, 0), Off(0, 0), Off(0, 150) })
        {
            await bench.ClickFilm(Films, at, "film");
        }

        var figures = page.Locator("#figures");
        await Assertions.Expect(figures).ToContainTextAsync("angle 90°");

        // By hand, from straight down to halfway.
        var canvas = (await page.Locator("#film canvas").BoundingBoxAsync())!;
        var (from, to) = (await bench.OnCanvas(Films, Off(0, 150), "film"), await bench.OnCanvas(Films, Off(150, 150), "film"));
        await page.Mouse.MoveAsync(canvas.X + from.X, canvas.Y + from.Y);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(canvas.X + to.X, canvas.Y + to.Y, new() { Steps = 5 });
        await page.Mouse.UpAsync();
        await Assertions.Expect(figures).ToContainTextAsync("angle 45°");
        await page.Keyboard.PressAsync("Control+Z");
        await Assertions.Expect(figures).ToContainTextAsync("angle 90°");
        await page.Keyboard.PressAsync("Control+Y");
        await Assertions.Expect(figures).ToContainTextAsync("angle 45°");

        // By keys: the crosshair begins at a third of the film's height; marks there are picked up, moved and put down.
        await page.GetByRole(AriaRole.Radio, new() { Name = "Length", Exact = true }).CheckAsync();
        await page.Locator("#film canvas").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        for (var step = 0; step < 10; step++)
        {
            await page.Keyboard.PressAsync("ArrowDown");
        }

        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(figures).ToContainTextAsync("length ");
        var before = await page.Locator("#drawing").InputValueAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.PressAsync("Shift+ArrowDown");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#drawing")).Not.ToHaveValueAsync(before);
        Assert.Equal(1, Last(await page.Locator("#drawing").InputValueAsync()) - Last(before), 1e-6);

        // Undo while a mark is held takes back that move alone, and lets it go.
        before = await page.Locator("#drawing").InputValueAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.PressAsync("Shift+ArrowDown");
        await Assertions.Expect(page.Locator("#drawing")).Not.ToHaveValueAsync(before);
        await page.Keyboard.PressAsync("Control+Z");
        await Assertions.Expect(page.Locator("#drawing")).ToHaveValueAsync(before);
        await page.Keyboard.PressAsync("ArrowDown");
        await Assertions.Expect(page.Locator("#drawing")).ToHaveValueAsync(before);

        await page.GetByRole(AriaRole.Radio, new() { Name = "Lesion", Exact = true }).CheckAsync();
        foreach (var at in new[] { Off(-100, -100), Off(100, 100), Off(100, -100), Off(-100, 100) })
        {
            await bench.ClickFilm(Films, at, "film");
        }

        await Assertions.Expect(page.Locator("#wrong")).ToContainTextAsync("The outline crosses itself: its side from point 1 to 2 meets the one from point 3 to 4.");
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Keep it" })).ToBeDisabledAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(figures).ToContainTextAsync("area ");
        Assert.All(bench.Complaints, complaint => Assert.Contains("422", complaint, StringComparison.Ordinal));

        static double Last(string drawing) => JsonDocument.Parse(drawing).RootElement.GetProperty("points_px")[1][1].GetDouble();
    }

    [Fact]
    public async Task A_known_length_corrects_what_runs_along_it_and_a_lesion_of_one_name_on_two_films_is_told_with_its_change()
    {
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        var caseAddress = await OpenFilm(bench, "D-3");
        await page.GetByLabel("Size of one pixel").FillAsync("0.03");
        await bench.ClickFilm(Films, Off(-60, -200), "film");
        await bench.ClickFilm(Films, Off(-60, 200), "film");
        await Keep("Root");
        await page.GetByRole(AriaRole.Radio, new() { Name = "Known length" }).CheckAsync();
        await bench.ClickFilm(Films, Off(-20, 250), "film");
        await bench.ClickFilm(Films, Off(-20, -250), "film");
        await Assertions.Expect(page.Locator("#next")).ToHaveTextAsync("Enter its true length.");
        await page.GetByLabel("Its true length").FillAsync("16");
        await Assertions.Expect(page.Locator("#figures")).ToContainTextAsync("angle to the film 20°");
        await page.LookAtEverySize("case-draw-known-length");
        await Keep("File");
        await Assertions.Expect(page.Locator(".kept li").First).ToContainTextAsync("Were it foreshortened as “File”: 12.8 mm");
        await page.GetByRole(AriaRole.Radio, new() { Name = "Lesion", Exact = true }).CheckAsync();
        await DrawRound(bench, 80);
        await Keep("Lesion at the distal root");

        await page.GotoAsync(caseAddress + "/films");
        await page.GetByLabel("Files").SetInputFilesAsync(new FilePayload { Name = "recall.png", MimeType = "image/png", Buffer = Films.After });
        await page.GetByLabel("Taken").SelectOptionAsync("Recall");
        await page.GetByRole(AriaRole.Button, new() { Name = "Attach the films" }).ClickAsync();
        await page.Locator(".film-of-case").Filter(new() { HasText = "at recall" }).GetByRole(AriaRole.Link, new() { Name = "Draw on it" }).ClickAsync();
        await bench.Ready();
        await page.GetByLabel("Size of one pixel").FillAsync("0.03");
        await page.GetByRole(AriaRole.Radio, new() { Name = "Lesion", Exact = true }).CheckAsync();
        await DrawRound(bench, 50);
        await Assertions.Expect(page.Locator("#name")).ToHaveValueAsync("Lesion at the distal root");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep it" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "From film to film" })).ToBeVisibleAsync();

        await page.GotoAsync(caseAddress + "/films");
        await Assertions.Expect(page.GetByText("mm²: smaller by")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("Two films taken at other angles change an outline by themselves")).ToBeVisibleAsync();
        await page.LookAtEverySize("case-films-lesion-change");

        async Task Keep(string called)
        {
            await page.Locator("#name").FillAsync(called);
            await page.GetByRole(AriaRole.Button, new() { Name = "Keep it" }).ClickAsync();
            await Assertions.Expect(page.Locator(".kept")).ToContainTextAsync(called);
            await bench.Ready();
        }
    }

    [Fact]
    public async Task Aids_to_the_eye_and_the_curve_a_file_asks_for_change_no_figure_and_O_shows_the_original_while_it_is_held()
    {
        // A film of one grey in which a value of 30000 of 65535 is to be shown as shade 200, and everything below as black.
        byte[] curve = [.. Enumerable.Range(0, 60000).Select(value => (byte)(value < 20000 ? 0 : value < 40000 ? 200 : 255))];
        const string Sharpened = "Sharpened: a dark line along a filling may not be there";
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        await OpenFilm(bench, "D-5", new FilePayload { Name = "curve.dcm", MimeType = "application/dicom", Buffer = DicomFilm.Of(600, 800, (x, y) => (ushort)(x == 0 && y == 0 ? 65535 : 30000), curve) });
        var asked = await bench.MiddleGrey("film");
        Assert.Equal(200, asked);

        await ClickMiddle(-100);
        await ClickMiddle(100);
        var figures = page.Locator("#figures");
        await Assertions.Expect(figures).ToContainTextAsync("length ");
        var (said, drawing) = (await figures.InnerTextAsync(), await page.Locator("#drawing").InputValueAsync());

        var canvas = page.Locator("#film canvas");
        await canvas.FocusAsync();
        await page.Keyboard.PressAsync("i");
        await page.Keyboard.PressAsync("b");
        await page.Keyboard.PressAsync("c");
        await page.Keyboard.PressAsync("l");
        await page.Keyboard.PressAsync("s");
        Assert.NotEqual(asked, await bench.MiddleGrey("film"));
        var badge = page.Locator("#film [data-part=badge]");
        await Assertions.Expect(badge).ToHaveTextAsync(Sharpened);

        // A point taken up and put down where it was is measured anew, with the aids on.
        await page.Keyboard.PressAsync("Control+Z");
        await Assertions.Expect(figures).Not.ToContainTextAsync("length ");
        await page.Keyboard.PressAsync("Control+Y");
        await Assertions.Expect(figures).ToContainTextAsync("length ");
        Assert.Equal((said, drawing), (await figures.InnerTextAsync(), await page.Locator("#drawing").InputValueAsync()));

        await page.Keyboard.DownAsync("o");
        await Assertions.Expect(badge).ToHaveTextAsync("Original");
        Assert.Equal(asked, await bench.MiddleGrey("film"));
        await page.Keyboard.UpAsync("o");
        await Assertions.Expect(badge).ToHaveTextAsync(Sharpened);
        Assert.NotEqual(asked, await bench.MiddleGrey("film"));
        await page.Locator("#name").FillAsync("o");
        await Assertions.Expect(badge).ToHaveTextAsync(Sharpened);
        Assert.Empty(bench.Complaints);

        async Task ClickMiddle(double down)
        {
            var box = (await page.Locator("#film canvas").BoundingBoxAsync())!;
            await page.Locator("#film canvas").ClickAsync(new() { Position = new() { X = box.Width / 2, Y = (box.Height / 2) + (float)down } });
        }
    }

    private static PixelPoint Off(double x, double y) => new(Middle.X + x, Middle.Y + y);

    private static async Task DrawRound(Bench bench, double radiusPixels)
    {
        for (var i = 0; i < 8; i++)
        {
            var (y, x) = Math.SinCos(2 * Math.PI * i / 8);
            await bench.ClickFilm(Films, Off(radiusPixels * x, radiusPixels * y), "film");
        }
    }

    private static async Task<string> OpenFilm(Bench bench, string number, FilePayload? film = null)
    {
        var page = bench.Page;
        var caseAddress = await page.OpenCase(number, "46");
        await page.GotoAsync(caseAddress + "/films");
        await page.GetByLabel("Files").SetInputFilesAsync(film ?? new FilePayload { Name = "before.png", MimeType = "image/png", Buffer = Films.Before });
        await page.GetByRole(AriaRole.Button, new() { Name = "Attach the films" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Draw on it" }).ClickAsync();
        await bench.Ready();
        return caseAddress;
    }
}
