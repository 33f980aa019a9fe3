using System.Diagnostics;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Secondpass.Domain.Films;

namespace Secondpass.Browser;

/// <summary>A case from the referral to the canals, with real files.</summary>
public sealed class CaseTests(Workbench workbench, Chromium chromium, ITestOutputHelper output)
{
    private static readonly byte[] Letter = [.. "%PDF-1.4\n% an invented letter"u8];

    [Fact]
    public async Task From_the_referral_over_the_assessment_to_the_canals_measured_on_a_film()
    {
        var films = FilmFiles.ThreeCanals;
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;

        var began = Stopwatch.GetTimestamp();
        await page.GetByLabel("Patient number").FillAsync("B-100");
        await page.GetByLabel("Tooth").FillAsync("47");
        await Assertions.Expect(page.Locator("#tooth-words")).ToContainTextAsync("lower right second molar");
        await page.GetByLabel("Sent by").FillAsync("Dr. Invented");
        await page.GetByLabel("Reason").FillAsync("Pain on biting");
        await page.Locator("[name='Form.Health[1].Says'][value=yes]").CheckAsync();
        await page.GetByLabel("Allergies: what").FillAsync("latex");
        await page.GetByLabel("As a file").SetInputFilesAsync(new FilePayload { Name = "letter.pdf", MimeType = "application/pdf", Buffer = Letter });
        await page.GetByRole(AriaRole.Button, new() { Name = "Open the case" }).ClickAsync();

        await Assertions.Expect(page.Locator(".tooth")).ToHaveTextAsync("47 lower right second molar");
        await Assertions.Expect(page.GetByText("Mind:")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator(".not-asked")).ToContainTextAsync("medicines against clotting");
        var opened = Stopwatch.GetElapsedTime(began);
        var caseAddress = page.Url;

        await page.GetByRole(AriaRole.Link, new() { Name = "Next Assessment" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Pulp")).ToHaveValueAsync("PreviouslyTreated");
        await page.GetByLabel("Apex").SelectOptionAsync("AsymptomaticPeriodontitis");
        await page.GetByLabel("Isolated deep pocket").FillAsync("9");
        await page.Locator("[name='Form.Before'][value=Restorable]").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the assessment" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("An isolated pocket of 9 mm may mean that the root is fractured.");
        await Assertions.Expect(page.GetByLabel("Apex")).ToHaveValueAsync("AsymptomaticPeriodontitis");
        await page.GetByLabel("I thought of a root fracture").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the assessment" }).ClickAsync();

        await page.GetByRole(AriaRole.Link, new() { Name = "Next Canals" }).ClickAsync();
        began = Stopwatch.GetTimestamp();
        await page.GetByLabel("Films of this tooth").SetInputFilesAsync(new FilePayload { Name = "before.png", MimeType = "image/png", Buffer = films.Before });
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the canals" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Measure on it" }).ClickAsync();
        await bench.Ready();
        foreach (var (orifice, end) in films.Canals)
        {
            await bench.ClickFilm(films, orifice, "film");
            await bench.ClickFilm(films, end, "film");
        }

        await Assertions.Expect(page.Locator("#measured li")).ToHaveCountAsync(films.Canals.Count);
        await page.GetByLabel("Size of one pixel").FillAsync("0.03");
        await page.GetByLabel("Size of one pixel").BlurAsync();
        await Assertions.Expect(page.Locator("#measured li").Last).ToContainTextAsync(") long");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take into the table" }).ClickAsync();
        await Assertions.Expect(page.Locator(".roots")).ToContainTextAsync("of the canal end");
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Case opened in {opened.TotalSeconds:0.0} s, consult in {Stopwatch.GetElapsedTime(began).TotalSeconds:0.0} s by a script."));

        // A distal root that splits mesiodistally in its apical third, one branch blocked.
        await page.GetByRole(AriaRole.Button, new() { Name = "Another canal or branch" }).ClickAsync();
        var unnamed = page.Locator("section", new() { Has = page.GetByRole(AriaRole.Heading, new() { Name = "Another canal or branch" }) }).GetByLabel("Name of the canal");
        await Assertions.Expect(unnamed).ToBeFocusedAsync();
        await unnamed.FillAsync("D2");
        var added = (await unnamed.GetAttributeAsync("name"))![..^"Name".Length];
        await page.Locator($"[name='{added}Root']").FillAsync("D");
        await page.Locator($"[name='{added}Parent']").SelectOptionAsync("D");
        await page.Locator($"[name='{added}MeetsFromEnd']").FillAsync("40");
        await page.Locator($"[name='{added}Plane']").SelectOptionAsync("Mesiodistal");
        await page.Locator($"[name='{added}Obstacles'][value=Blockage]").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the canals" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("D2, level of the split: 40 mm can't be.");
        await page.Locator($"[name='{added}MeetsFromEnd']").FillAsync("3");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the canals" }).ClickAsync();
        await Assertions.Expect(page.Locator(".roots")).ToContainTextAsync("D2 splits off D mesiodistally, 3.0 mm from the end.");

        await page.GotoAsync(caseAddress + "/referral");
        var letter = await page.APIRequest.GetAsync((await page.GetByRole(AriaRole.Link, new() { Name = "letter.pdf" }).GetAttributeAsync("href"))!);
        Assert.Equal(Letter, await letter.BodyAsync());
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task What_is_left_knows_the_case_and_what_is_kept_belongs_to_it()
    {
        var films = FilmFiles.ThreeCanals;
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        var caseAddress = await page.OpenCase("B-300", "46");
        await page.GotoAsync(caseAddress + "/canals");
        await page.GetByLabel("Films of this tooth").SetInputFilesAsync(new FilePayload { Name = "before.png", MimeType = "image/png", Buffer = films.Before });
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the canals" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Measure on it" }).WaitForAsync();

        await page.GetByRole(AriaRole.Link, new() { Name = "What is left" }).Last.ClickAsync();
        await bench.Ready();
        await Assertions.Expect(page.Locator(".of-case")).ToContainTextAsync("46 lower right first molar, patient B-300");
        await bench.Drop("#after", films.After);
        await page.Locator("#states").WaitForAsync();
        await bench.SayFillingOut();
        await bench.TraceCanals(films);
        await bench.Compare();
        await page.Locator("#label").FillAsync("B-300, first visit");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep", Exact = true }).ClickAsync();
        await page.Locator("#kept").WaitForAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Back to the case" }).ClickAsync();

        await Assertions.Expect(page.GetByText("what is left kept with the case")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("li.done").Filter(new() { HasText = "What is left" })).ToHaveCountAsync(1);
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task Two_people_at_once_the_second_is_told_and_loses_nothing()
    {
        await using var anna = await Bench.Open(workbench, chromium, path: "/settings");
        await anna.Page.GetByLabel("Stands beside everything").FillAsync("Anna");
        await anna.Page.GetByRole(AriaRole.Button, new() { Name = "Save" }).First.ClickAsync();
        await anna.Page.GotoAsync("/cases/new");
        var caseAddress = await anna.Page.OpenCase("B-200", "16");
        await using var ben = await Bench.Open(workbench, chromium, path: new Uri(caseAddress).AbsolutePath + "/referral");
        await ben.Page.GetByLabel("What is asked").FillAsync("Can it be kept?");

        await anna.Page.GotoAsync(caseAddress + "/referral");
        await anna.Page.GetByLabel("Reason").FillAsync("Lesion on the mesiobuccal root");
        await anna.Page.GetByRole(AriaRole.Button, new() { Name = "Save the referral" }).ClickAsync();
        await anna.Page.WaitForURLAsync(caseAddress);
        await ben.Page.GetByRole(AriaRole.Button, new() { Name = "Save the referral" }).ClickAsync();

        await Assertions.Expect(ben.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("Anna changed this case meanwhile");
        await Assertions.Expect(ben.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("referral entered anew");
        await Assertions.Expect(ben.Page.GetByLabel("What is asked")).ToHaveValueAsync("Can it be kept?");
    }

    // Marks of demo/lower-molar-split-distal-canal: D, and where DL leaves it and ends.
    [Fact]
    public async Task A_canal_that_splits_is_marked_as_a_tree_and_stands_there_when_the_film_is_opened_again()
    {
        var films = FilmFiles.Demo("lower-molar-split-distal-canal");
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        await page.OpenCase("B-1", "46");
        await page.GetByRole(AriaRole.Link, new() { Name = "Canals", Exact = true }).ClickAsync();
        await page.GetByLabel("Films of this tooth").SetInputFilesAsync(new FilePayload { Name = "before.png", MimeType = "image/png", Buffer = films.Before });
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the canals" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Measure on it" }).ClickAsync();
        await bench.Ready();
        var next = page.Locator("#next");
        await page.GetByLabel("Size of one pixel").FillAsync("0.02898");
        await page.GetByRole(AriaRole.Radio, new() { Name = "D", Exact = true }).CheckAsync();
        await bench.ClickFilm(films, films.Canals[2].Orifice, "film");
        await page.Keyboard.DownAsync("Shift");
        await bench.ClickFilm(films, films.Canals[2].End, "film");
        await page.Keyboard.UpAsync("Shift");
        await Assertions.Expect(page.Locator("#measured li").First).ToContainTextAsync(") long");

        // Its end is moved, and taken back: the canal is traced anew each time.
        var measured = page.Locator("#measured li").First;
        var asMarked = await measured.InnerTextAsync();
        var (x, y) = await bench.OnCanvas(films, films.Canals[2].End, "film");
        var box = (await page.Locator("#film canvas").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + x, box.Y + y);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + x, box.Y + y - 30, new() { Steps = 3 });
        await page.Mouse.UpAsync();
        await Assertions.Expect(measured).Not.ToHaveTextAsync(asMarked, new() { UseInnerText = true });
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(measured).ToHaveTextAsync(asMarked, new() { UseInnerText = true });

        // By keys: Escape leaves it where it was, Enter puts it down where the crosshair is; put down where it was picked up, nothing is there to undo.
        var marks = page.Locator("#marks");
        var marksBefore = await marks.InputValueAsync();
        await bench.MoveCrosshair(films, films.Canals[2].End, "film");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(next).ToHaveTextAsync("Picked up. Arrow keys move it, Enter puts it down, Escape leaves it.");
        await page.Keyboard.PressAsync("ArrowUp");
        await Assertions.Expect(marks).Not.ToHaveValueAsync(marksBefore);
        await page.Keyboard.PressAsync("Escape");
        await Assertions.Expect(next).ToHaveTextAsync("Left where it was.");
        await Assertions.Expect(marks).ToHaveValueAsync(marksBefore);
        await page.Keyboard.PressAsync("ArrowDown");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(next).ToHaveTextAsync("Picked up. Arrow keys move it, Enter puts it down, Escape leaves it.");
        await page.Keyboard.PressAsync("ArrowUp");
        await page.Keyboard.PressAsync("ArrowUp");
        await page.Keyboard.PressAsync("Shift+ArrowUp");
        var at = await next.InnerTextAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(measured).Not.ToHaveTextAsync(asMarked, new() { UseInnerText = true });
        await Assertions.Expect(measured).ToContainTextAsync(") long");
        var end = JsonDocument.Parse(await marks.InputValueAsync()).RootElement.GetProperty("canals")[0].GetProperty("trace_px")[1];
        Assert.Equal(at, $"{Whole(end[0])}, {Whole(end[1])}");
        var traces = 0;
        page.Request += (_, request) => traces += request.Url.EndsWith("/trace", StringComparison.Ordinal) ? 1 : 0;
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(next).ToHaveTextAsync("Put down.");
        Assert.Equal(0, traces);
        await page.Keyboard.PressAsync("Control+Z");
        await Assertions.Expect(marks).ToHaveValueAsync(marksBefore);
        await Assertions.Expect(measured).ToHaveTextAsync(asMarked, new() { UseInnerText = true });

        await page.GetByRole(AriaRole.Button, new() { Name = "Branch of D" }).ClickAsync();
        await Assertions.Expect(next).ToHaveTextAsync("Click where D2 leaves D.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(next).Not.ToContainTextAsync("leaves");
        await page.GetByRole(AriaRole.Button, new() { Name = "Branch of D" }).ClickAsync();
        await page.Keyboard.PressAsync("Escape");
        await Assertions.Expect(next).Not.ToContainTextAsync("leaves");
        await page.GetByRole(AriaRole.Button, new() { Name = "Branch of D" }).ClickAsync();
        await bench.ClickFilm(films, new PixelPoint(470, 620), "film");
        await Assertions.Expect(next).ToHaveTextAsync("Click the end of D2.");
        await page.Keyboard.PressAsync("Control+Z");
        await Assertions.Expect(next).Not.ToContainTextAsync("D2");
        await page.Keyboard.PressAsync("Control+Y");
        await Assertions.Expect(next).ToHaveTextAsync("Click the end of D2.");
        await bench.ClickFilm(films, new PixelPoint(489, 811), "film");
        await Assertions.Expect(page.Locator("#measured li").Last).ToContainTextAsync("D2");
        await Assertions.Expect(page.Locator("#measured li").Last).ToContainTextAsync(") long");
        await page.GetByRole(AriaRole.Button, new() { Name = "Guide D2" }).ClickAsync();
        await Assertions.Expect(next).ToHaveTextAsync("Click where D2 runs.");
        await bench.ClickFilm(films, new PixelPoint(480, 715), "film");
        await Assertions.Expect(page.Locator("#marks")).ToHaveValueAsync(new Regex("\"name\":\"D2\",\"trace_px\":\\[\\[[^\\]]*\\],\\[[^\\]]*\\],\\["));
        await page.Keyboard.PressAsync("Control+Z");
        await Assertions.Expect(page.Locator("#marks")).ToHaveValueAsync(new Regex("\"name\":\"D2\",\"trace_px\":\\[\\[[^\\]]*\\],\\[[^\\]]*\\]\\]"));
        var more = page.GetByText("All figures of D", new() { Exact = true });
        await Assertions.Expect(page.GetByText("radiographic end").First).ToBeHiddenAsync();
        await more.ClickAsync();
        await Assertions.Expect(page.GetByText("radiographic end").First).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("Curve after Schneider").First).ToBeVisibleAsync();
        await page.LookAtEverySize("case-measure-more");
        await more.ClickAsync();
        await page.LookAtEverySize("case-measure-branch");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take into the table" }).ClickAsync();

        await Assertions.Expect(page.Locator(".roots")).ToContainTextAsync("D2 splits off D");
        await page.GetByRole(AriaRole.Link, new() { Name = "Measure on it" }).ClickAsync();
        await bench.Ready();
        await Assertions.Expect(page.Locator("#measured li")).ToHaveCountAsync(2);
        await Assertions.Expect(page.Locator("#marks")).ToHaveValueAsync(new Regex("\"name\":\"D\".*\"hard_px\":\\[\\[.*\"name\":\"D2\".*\"hard_px\":null"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Take into the table" }).ClickAsync();
        await Assertions.Expect(page.Locator(".roots")).ToContainTextAsync("D2 splits off D");

        // Named in the table, it is asked for by that name; removed and drawn again, it is the same one.
        await page.GetByRole(AriaRole.Link, new() { Name = "Measure on it" }).ClickAsync();
        await bench.Ready();
        await page.GetByRole(AriaRole.Button, new() { Name = "Remove D2 from this film" }).ClickAsync();
        await Assertions.Expect(page.Locator("#measured li")).ToHaveCountAsync(1);
        await page.GetByRole(AriaRole.Radio, new() { Name = "D2", Exact = true }).CheckAsync();
        await Assertions.Expect(next).ToHaveTextAsync("Click where D2 leaves D.");
        await bench.ClickFilm(films, new PixelPoint(470, 620), "film");
        await bench.ClickFilm(films, new PixelPoint(489, 811), "film");
        await Assertions.Expect(page.Locator("#measured li")).ToHaveCountAsync(2);
        Assert.Empty(bench.Complaints);

        static string Whole(JsonElement pixels) => Math.Floor(pixels.GetDouble() + 0.5).ToString(CultureInfo.InvariantCulture);
    }

    [Theory]
    [MemberData(nameof(LooksTests.SizesAndThemes), MemberType = typeof(LooksTests))]
    public async Task Every_page_of_a_case_is_accessible_and_fits(int width, int height, ColorScheme theme)
    {
        await using var bench = await Bench.Open(
            workbench,
            chromium,
            new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = width, Height = height }, ColorScheme = theme },
            "/cases/new");
        var page = bench.Page;
        var name = string.Create(CultureInfo.InvariantCulture, $"{width}-{theme}");
        var caseAddress = await page.OpenCase("L-" + name, "16");
        await page.GotoAsync(caseAddress + "/canals");
        await page.GetByLabel("Films of this tooth").SetInputFilesAsync(new FilePayload { Name = "before.png", MimeType = "image/png", Buffer = FilmFiles.ThreeCanals.Before });
        await page.Locator("[name='Form.Canals[0].Filling'][value=Filled]").CheckAsync();
        await page.Locator("[name='Form.Canals[0].OffCentre']").FillAsync("0,4");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the canals" }).ClickAsync();
        var film = await page.GetByRole(AriaRole.Link, new() { Name = "Measure on it" }).GetAttributeAsync("href");

        foreach (var path in new[] { "", "/referral", "/assessment", "/canals", "/films", "/scan", "/lengths" })
        {
            await Look(caseAddress + path, "case" + path.Replace('/', '-'));
        }

        await Look(film!, "case-measure");
        await Look(film! + "/draw", "case-draw");
        await Look("/cases", "cases");
        await Look("/cases/new", "cases-new");
        Assert.Empty(bench.Complaints);

        async Task Look(string address, string state)
        {
            await page.GotoAsync(address, new() { WaitUntil = WaitUntilState.NetworkIdle });
            await bench.Picture($"{name}-{state}");
            Assert.Empty(await page.Faults(state));
        }
    }
}
