using System.Text.Json;
using Microsoft.Playwright;
using Secondpass.Domain.Films;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

public sealed class WalkTests(Workbench workbench, Chromium chromium)
{
    [Fact]
    public async Task Two_films_and_at_most_10_clicks_show_what_is_left_in_three_canals_with_the_numbers_of_the_command()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        Assert.Equal(3, films.Canals.Count);
        await bench.DropBoth(films);

        await bench.SayFillingOut();
        await bench.TraceCanals(films);
        await bench.Compare();

        Assert.InRange(await bench.Clicks(), 1, 10);
        await Expect(bench.Page.Locator("#refusal")).ToBeHiddenAsync();
        await Expect(bench.Page.Locator("#headlines .outcome")).ToHaveCountAsync(3);
        await bench.Picture("walk-result");

        var id = await bench.ComparisonId();
        var folder = Directory.CreateTempSubdirectory("secondpass-walk-").FullName;
        await File.WriteAllBytesAsync(Path.Combine(folder, "before.png"), films.Before);
        await File.WriteAllBytesAsync(Path.Combine(folder, "after.png"), films.After);
        await File.WriteAllTextAsync(Path.Combine(folder, "case.json"), (await bench.Json($"/api/comparisons/{id}/case.json")).GetRawText());
        var (exitCode, output) = await Workbench.Command(
            "compare", "--json", "--before", Path.Combine(folder, "before.png"), "--after", Path.Combine(folder, "after.png"), "--case", Path.Combine(folder, "case.json"));
        Directory.Delete(folder, recursive: true);

        Assert.Equal(0, exitCode);
        var byCommand = JsonSerializer.Deserialize<JsonElement>(output).GetProperty("canals").EnumerateArray().ToArray();
        var byPage = (await bench.Json($"/api/comparisons/{id}")).GetProperty("document").GetProperty("canals").EnumerateArray().ToArray();
        Assert.Equal(byCommand.Select(canal => canal.GetRawText()), byPage.Select(canal => canal.GetRawText()));
        var headlines = await bench.Page.Locator("#headlines .headline").AllInnerTextsAsync();
        foreach (var (canal, headline) in byCommand.Zip(headlines))
        {
            Assert.StartsWith(canal.GetProperty("name").GetString()!, headline, StringComparison.Ordinal);
            if (!headline.Contains("no filling visible", StringComparison.Ordinal))
            {
                var percent = Math.Clamp(canal.GetProperty("mass_percent").GetDouble(), 0, 100);
                Assert.Contains(Words(percent), headline.Replace('\u00a0', ' '), StringComparison.Ordinal);
            }
        }

        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task The_page_answers_to_the_hand_as_it_was_started()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.DropBoth(FilmFiles.ThreeCanals);

        var before = await bench.Page.Locator("#before canvas").ScreenshotAsync();
        await bench.Page.Locator("#before").GetByRole(AriaRole.Button, new() { Name = "Invert" }).ClickAsync();
        await Expect(bench.Page.Locator("#before").GetByRole(AriaRole.Button, new() { Name = "Invert" })).ToHaveAttributeAsync("aria-pressed", "true");
        var inverted = await bench.Page.Locator("#before canvas").ScreenshotAsync();
        await bench.Page.Keyboard.DownAsync("o");
        await Expect(bench.Page.Locator("#before [data-part=badge]")).ToHaveTextAsync("Original");
        await bench.Page.Keyboard.UpAsync("o");
        await Expect(bench.Page.Locator("#before [data-part=badge]")).ToBeHiddenAsync();

        Assert.NotEqual(before, inverted);
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task What_stands_on_the_film_after_is_asked_and_never_assumed()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.DropBoth(FilmFiles.ThreeCanals);
        await bench.TraceCanals(FilmFiles.ThreeCanals);

        await Expect(bench.Page.GetByRole(AriaRole.Button, new() { Name = "Show what is left" })).ToBeHiddenAsync();
        await Expect(bench.Page.GetByText("What stands in the canals on the film after?")).ToBeVisibleAsync();
        await bench.SayFillingOut();
        await Expect(bench.Page.GetByRole(AriaRole.Button, new() { Name = "Show what is left" })).ToBeVisibleAsync();
    }

    [Fact]
    public async Task An_instrument_in_a_canal_gives_no_figure_and_says_why()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        await bench.DropBoth(films);
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Instrument in" }).ClickAsync();
        await bench.ClickFilm(films, films.Canals[2].Orifice);
        await bench.ClickFilm(films, films.Canals[2].End);
        await bench.Compare();

        await Expect(bench.Page.Locator("#headlines .outcome.refused")).ToHaveCountAsync(1);
        Assert.DoesNotContain("%", await bench.Page.Locator("#headlines").InnerTextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Undo_takes_back_one_step_after_the_other_and_redo_brings_them_again()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        await bench.DropBoth(films);
        await bench.SayFillingOut();
        await bench.ClickFilm(films, films.Canals[0].Orifice);
        await bench.ClickFilm(films, films.Canals[0].End);
        await bench.AllTraced(1);
        var step = bench.Page.Locator("#step");

        await bench.Page.Keyboard.PressAsync("Control+z");
        await Expect(step).ToHaveTextAsync("Canal 1: click its end.");
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Expect(step).ToHaveTextAsync("Canal 1: click its orifice, on the film before.");
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Redo" }).ClickAsync();
        await bench.Page.Keyboard.PressAsync("Control+y");
        await bench.AllTraced(1);
    }

    [Fact]
    public async Task A_pin_pulls_the_path_and_is_hard_with_Shift()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        var (orifice, end) = await OneCanal(bench, films);
        var middle = orifice.Towards(end, 0.6);

        var (x, y) = await bench.OnCanvas(films, middle);
        await bench.Page.Locator("#before canvas").ClickAsync(new() { Position = new() { X = x, Y = y }, Modifiers = [KeyboardModifier.Shift] });

        var pin = bench.Page.Locator("#canals [data-part=pins] li");
        await Expect(pin).ToHaveCountAsync(1);
        await Expect(pin.GetByRole(AriaRole.Button, new() { Name = "the path goes through it exactly" })).ToHaveAttributeAsync("aria-pressed", "true");
        await pin.GetByRole(AriaRole.Button, new() { Name = "Remove pin 1" }).ClickAsync();
        await Expect(pin).ToHaveCountAsync(0);
        Assert.Empty(bench.Complaints);
    }

    // Each answer takes 0.3 s, ten times as long as a mark stays in one place.
    [Fact]
    public async Task The_path_follows_a_mark_that_is_dragged_however_long_answers_take()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var (page, films) = (bench.Page, FilmFiles.ThreeCanals);
        var (orifice, end) = await OneCanal(bench, films);
        var answers = 0;
        await page.RouteAsync("**/trace", async route =>
        {
            await Task.Delay(300);
            await route.ContinueAsync();
        });
        page.Response += (_, response) => answers += response.Url.EndsWith("/trace", StringComparison.Ordinal) ? 1 : 0;

        var canvas = (await page.Locator("#before canvas").BoundingBoxAsync())!;
        var (x, y) = await bench.OnCanvas(films, end);
        await page.Mouse.MoveAsync(canvas.X + x, canvas.Y + y);
        await page.Mouse.DownAsync();
        for (var step = 1; step <= 80; step++)
        {
            await page.Mouse.MoveAsync(canvas.X + x + (step / 8f), canvas.Y + y);
            await Task.Delay(30, TestContext.Current.CancellationToken);
        }

        var whileDragged = answers;
        await page.Mouse.UpAsync();

        Assert.True(whileDragged >= 3, $"{whileDragged} answers while the mark was dragged");
        await bench.AllTraced(1);
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task The_whole_walk_goes_by_keyboard()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        await bench.DropBoth(films);
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Filling out" }).FocusAsync();
        await bench.Page.Keyboard.PressAsync("Enter");
        await Expect(bench.Page.Locator("#before canvas")).ToBeFocusedAsync();

        var (orifice, end) = films.Canals[2];
        await bench.MoveCrosshair(films, orifice);
        await bench.Page.Keyboard.PressAsync("Enter");
        await bench.MoveCrosshair(films, end, from: orifice);
        await bench.Page.Keyboard.PressAsync("Enter");

        await bench.AllTraced(1);
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Show what is left" }).FocusAsync();
        await bench.Page.Keyboard.PressAsync("Enter");
        await bench.Page.Locator("#result").WaitForAsync();
        await Expect(bench.Page.Locator("#result-title")).ToBeFocusedAsync();
        Assert.Equal(0, await bench.Clicks());
    }

    [Fact]
    public async Task Films_of_two_teeth_are_refused_with_reason_and_remedy_and_nothing_is_lost()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.TwoTeeth;
        await bench.DropBoth(films);
        await bench.SayFillingOut();
        await bench.TraceCanals(films);
        var marked = await bench.Page.Locator("#canals [data-part=words]").AllInnerTextsAsync();

        await bench.Compare();

        await Expect(bench.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("No result");
        Assert.NotEmpty(await bench.Page.Locator("#refusal-reason").InnerTextAsync());
        Assert.NotEmpty(await bench.Page.Locator("#refusal-remedy").InnerTextAsync());
        Assert.Equal(marked, await bench.Page.Locator("#canals [data-part=words]").AllInnerTextsAsync());
        await Expect(bench.Page.GetByRole(AriaRole.Button, new() { Name = "Show what is left" })).ToBeVisibleAsync();
        await bench.Picture("walk-refused");
    }

    [Fact]
    public async Task A_file_that_is_no_film_is_refused_and_the_films_stay()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.DropBoth(FilmFiles.ThreeCanals);

        await bench.Drop("#after", "not a film"u8.ToArray());

        await Expect(bench.Page.GetByRole(AriaRole.Alert)).ToBeVisibleAsync();
        await Expect(bench.Page.Locator("#states")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_reload_loses_nothing()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.DropBoth(FilmFiles.ThreeCanals);
        await bench.SayFillingOut();
        await bench.TraceCanals(FilmFiles.ThreeCanals);

        await bench.Page.ReloadAsync();
        await bench.Ready();

        await bench.AllTraced(3);
        await Expect(bench.Page.Locator("#state-words")).ToHaveTextAsync("filling out");
    }

    [Fact]
    public async Task A_tooth_names_the_canals_in_words_of_the_trade()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.DropBoth(FilmFiles.ThreeCanals);
        await bench.SayFillingOut();
        await bench.Page.Locator("#tooth").SelectOptionAsync("46");

        await Expect(bench.Page.Locator("#tooth option:checked")).ToHaveTextAsync("46 lower right first molar");
        await bench.TraceCanals(FilmFiles.ThreeCanals);
        Assert.Equal(["MB", "ML", "D"], await bench.Page.Locator("#canals select[data-part=name]").EvaluateAllAsync<string[]>("selects => selects.map(select => select.value)"));
        await bench.Page.Locator("#tooth").SelectOptionAsync("26");
        await bench.AllTraced(3);
        Assert.Equal(["MB1", "DB", "P"], await bench.Page.Locator("#canals select[data-part=name]").EvaluateAllAsync<string[]>("selects => selects.map(select => select.value)"));
    }

    [Fact]
    public async Task A_result_is_kept_with_its_sheet_found_again_and_removed()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.DropBoth(FilmFiles.ThreeCanals);
        await bench.SayFillingOut();
        await bench.TraceCanals(FilmFiles.ThreeCanals);
        await bench.Compare();
        await bench.Page.Locator("#label").FillAsync("lower molar, visit 2");
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Keep", Exact = true }).ClickAsync();
        await bench.Page.GetByRole(AriaRole.Link, new() { Name = "See it" }).ClickAsync();

        await Expect(bench.Page.GetByRole(AriaRole.Heading, new() { Name = "lower molar, visit 2" })).ToBeVisibleAsync();
        await Expect(bench.Page.Locator("tbody tr")).ToHaveCountAsync(3);
        await bench.Picture("kept-result");
        var sheet = await bench.Page.APIRequest.GetAsync((await bench.Page.GetByRole(AriaRole.Link, new() { Name = "Record sheet (PDF)" }).GetAttributeAsync("href"))!);
        Assert.Equal("%PDF-"u8.ToArray(), (await sheet.BodyAsync())[..5]);

        await bench.Page.GetByRole(AriaRole.Link, new() { Name = "Open its films again" }).ClickAsync();
        await bench.Ready();
        await bench.AllTraced(3);
        await bench.Page.GoBackAsync();
        await bench.Page.GetByText("Remove this result").ClickAsync();
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Remove for good" }).ClickAsync();
        await Expect(bench.Page.GetByText("lower molar, visit 2")).ToHaveCountAsync(0);
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task Thrown_away_films_are_gone_from_the_disk()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ToThrowAway;
        await bench.DropBoth(films);
        Assert.True(workbench.Stores(films.Before) && workbench.Stores(films.After), "dropped films are kept until it is decided");

        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Start over with other films" }).ClickAsync();

        await Expect(bench.Page.GetByText("Choose two films")).ToBeVisibleAsync();
        await bench.Page.WaitForFunctionAsync("async () => (await fetch('/what-is-left')).ok");
        await Until(() => !workbench.Stores(films.Before) && !workbench.Stores(films.After), "thrown away means gone");
    }

    [Fact]
    public async Task Starting_over_in_one_tab_leaves_the_films_of_another_and_they_go_with_that_one()
    {
        await using var one = await Bench.Open(workbench, chromium);
        await using var other = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ToThrowAway;
        await one.DropBoth(films);
        await other.DropBoth(films);
        var thrown = 0;
        one.Page.Response += (_, answer) => Interlocked.Add(ref thrown, answer.Request.Method == "DELETE" ? 1 : 0);

        await one.Page.GetByRole(AriaRole.Button, new() { Name = "Start over with other films" }).ClickAsync();
        await Until(() => Volatile.Read(ref thrown) == 2, "both films were thrown away in one tab");
        Assert.True(workbench.Stores(films.Before) && workbench.Stores(films.After), "the other tab shows them");

        await other.Page.GetByRole(AriaRole.Button, new() { Name = "Start over with other films" }).ClickAsync();
        await Until(() => !workbench.Stores(films.Before) && !workbench.Stores(films.After), "no tab shows them any more");
    }

    [Fact]
    public async Task Flicker_stands_still_where_motion_is_unwanted()
    {
        await using var bench = await Bench.Open(workbench, chromium, new BrowserNewContextOptions { ReducedMotion = ReducedMotion.Reduce });
        await bench.DropBoth(FilmFiles.ThreeCanals);
        await bench.SayFillingOut();
        await bench.TraceCanals(FilmFiles.ThreeCanals);
        await bench.Compare();

        await bench.Page.GetByRole(AriaRole.Radio, new() { Name = "Flicker" }).CheckAsync();
        var shown = bench.Page.Locator("#after [data-part=flicker-shows]");
        await Task.Delay(1200, TestContext.Current.CancellationToken);
        await Expect(shown).ToHaveTextAsync("Film after");
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Show the other film" }).ClickAsync();
        await Expect(shown).ToHaveTextAsync("Film before");
    }

    [Fact]
    public async Task Something_of_known_length_gives_the_scale()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        await bench.DropBoth(films);
        await bench.SayFillingOut();
        await Expect(bench.Page.Locator("#scale-words")).ToHaveTextAsync("No scale: percentages only.");
        await bench.ClickFilm(films, films.Canals[2].Orifice);
        await bench.ClickFilm(films, films.Canals[2].End);
        await bench.AllTraced(1);

        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Measure something of known length" }).ClickAsync();
        await bench.ClickFilm(films, new PixelPoint(200, 300));
        await bench.ClickFilm(films, new PixelPoint(200, 800));
        await bench.Page.GetByLabel("Its length in mm").FillAsync("60000");
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Set", Exact = true }).ClickAsync();
        await Expect(bench.Page.Locator("#calibration-error")).ToContainTextAsync("an intra-oral film has 0.005 to 0.5 mm");
        await bench.Page.GetByLabel("Its length in mm").FillAsync("120");
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Set", Exact = true }).ClickAsync();
        await Expect(bench.Page.Locator("#calibration-error")).ToHaveTextAsync("A scale is not taken from 120 mm; give 2 to 100 mm.");
        await bench.Page.GetByLabel("Its length in mm").FillAsync("15,0");
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Set", Exact = true }).ClickAsync();

        await Expect(bench.Page.Locator("#scale-words")).ToContainTextAsync("mm per pixel, from an object of known length on the film");
        Assert.Matches("^0\\.0(29|3|30|31)", await bench.Page.Locator("#scale-words").InnerTextAsync());
        await Expect(bench.Page.Locator("#canals [data-part=words]")).ToContainTextAsync(") long");
        await Expect(bench.Page.Locator("#canals > li")).ToHaveCountAsync(1);
    }

    [Fact]
    public async Task Points_marked_on_both_films_go_into_the_comparison()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        await OneCanal(bench, films);

        await bench.Page.GetByText("The films don't find each other?").ClickAsync();
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Mark points on both films" }).ClickAsync();
        foreach (var (before, after) in films.SamePlaces)
        {
            await bench.ClickFilm(films, before);
            await bench.ClickFilm(films, after, "after");
        }

        await Expect(bench.Page.Locator("#landmark-list li")).ToHaveCountAsync(2);
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Done" }).ClickAsync();
        await bench.Compare();
        await Expect(bench.Page.Locator("#refusal")).ToBeHiddenAsync();
        var marks = await bench.Json($"/api/comparisons/{await bench.ComparisonId()}/case.json");
        Assert.Equal(2, marks.GetProperty("landmarks_px").GetArrayLength());
    }

    [Fact]
    public async Task A_branch_leaves_its_trunk_where_it_is_clicked()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        var (orifice, end) = await OneCanal(bench, films);

        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Mark a branch of Canal 1" }).ClickAsync();
        await Expect(bench.Page.Locator("#step")).ToHaveTextAsync("Click where the branch leaves Canal 1.");
        await bench.ClickFilm(films, orifice.Towards(end, 0.6));
        await bench.ClickFilm(films, end + new PixelPoint(60, -20));

        await bench.AllTraced(2);
        await Expect(bench.Page.Locator("#refusal")).ToBeHiddenAsync();
        Assert.Equal(["Canal 1", "Canal 1 branch 2"], await bench.Page.Locator("#canals select[data-part=name]").EvaluateAllAsync<string[]>("selects => selects.map(select => select.value)"));
    }

    [Fact]
    public async Task Fingers_mark_and_a_long_press_marks_exactly()
    {
        await using var bench = await Bench.Open(workbench, chromium, new BrowserNewContextOptions
        {
            HasTouch = true,
            ViewportSize = new ViewportSize { Width = 820, Height = 1180 },
        });
        var films = FilmFiles.ThreeCanals;
        await bench.DropBoth(films);
        await bench.SayFillingOut();
        var (orifice, end) = films.Canals[2];
        await bench.Touch(films, orifice, TimeSpan.Zero);
        await bench.Touch(films, end, TimeSpan.Zero);
        await bench.AllTraced(1);

        await bench.Touch(films, orifice.Towards(end, 0.6), TimeSpan.FromSeconds(1));

        await Expect(bench.Page.Locator("#canals [data-part=pins] button[aria-pressed=true]")).ToHaveCountAsync(1);
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task An_invented_example_opens_with_its_marks()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Upper molar missed canal" }).ClickAsync();

        await bench.AllTraced(3);
        await bench.Compare();
        await Expect(bench.Page.Locator("#headlines .outcome")).ToHaveCountAsync(3);
        await bench.Picture("walk-example");
        await bench.Page.Locator("#strips").ScrollIntoViewIfNeededAsync();
        await bench.Picture("walk-example-strips");
    }

    /// <summary>Both films on the page, filling said to be out, and one canal traced by two clicks.</summary>
    private static async Task<(PixelPoint Orifice, PixelPoint End)> OneCanal(Bench bench, FilmFiles films)
    {
        await bench.DropBoth(films);
        await bench.SayFillingOut();
        await bench.ClickFilm(films, films.Canals[2].Orifice);
        await bench.ClickFilm(films, films.Canals[2].End);
        await bench.AllTraced(1);
        return films.Canals[2];
    }

    private static string Words(double percent) => percent switch
    {
        > 0 and < 1 => "under 1 %",
        > 99 and < 100 => "over 99 %",
        _ => Math.Round(percent, MidpointRounding.AwayFromZero).ToString("0", CultureInfo.InvariantCulture) + " %",
    };

    private static async Task Until(Func<bool> holds, string what)
    {
        for (var wait = 0; wait < 50 && !holds(); wait++)
        {
            await Task.Delay(100, TestContext.Current.CancellationToken);
        }

        Assert.True(holds(), what);
    }
}
