using System.Text.Json;
using Microsoft.Playwright;
using Secondpass.Domain.Films;

namespace Secondpass.Browser;

/// <summary>A photograph of a film is straightened by its corners.</summary>
public sealed class StraightenTests(Workbench workbench, Chromium chromium)
{
    private static readonly FilmFiles Films = FilmFiles.ThreeCanals;

    [Fact]
    public async Task Four_corners_are_marked_moved_taken_back_and_make_a_straight_film_with_a_scale()
    {
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        var caseAddress = await page.OpenCase("D-4", "46");
        await page.GotoAsync(caseAddress + "/films");
        await page.GetByLabel("Files").SetInputFilesAsync(new FilePayload { Name = "photograph.png", MimeType = "image/png", Buffer = Films.Before });
        await page.GetByRole(AriaRole.Button, new() { Name = "Attach the films" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "A photograph of a film? Straighten it" }).ClickAsync();
        await bench.Ready();
        var (next, keep, marks) = (page.Locator("#next"), page.GetByRole(AriaRole.Button, new() { Name = "Straighten it" }), page.Locator("#marks"));
        await Assertions.Expect(next).ToHaveTextAsync("Mark corner 1 of 4.");
        await Assertions.Expect(keep).ToBeDisabledAsync();
        await page.LookAtEverySize("case-straighten-empty");

        foreach (var (x, y) in new[] { (0.9, 0.9), (0.1, 0.1), (0.1, 0.9), (0.8, 0.1) })
        {
            await bench.ClickFilm(Films, Place(x, y), "film");
        }

        await Assertions.Expect(keep).ToBeEnabledAsync();
        var before = await marks.InputValueAsync();
        var canvas = (await page.Locator("#film canvas").BoundingBoxAsync())!;
        var (from, to) = (await bench.OnCanvas(Films, Place(0.8, 0.1), "film"), await bench.OnCanvas(Films, Place(0.9, 0.1), "film"));
        await page.Mouse.MoveAsync(canvas.X + from.X, canvas.Y + from.Y);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(canvas.X + to.X, canvas.Y + to.Y, new() { Steps = 5 });
        await page.Mouse.UpAsync();
        await Assertions.Expect(marks).Not.ToHaveValueAsync(before);
        var moved = await marks.InputValueAsync();
        await page.Keyboard.PressAsync("Control+Z");
        await Assertions.Expect(marks).ToHaveValueAsync(before);
        await page.Keyboard.PressAsync("Control+Y");
        await Assertions.Expect(marks).ToHaveValueAsync(moved);
        Assert.Equal(Place(0.9, 0.1).X, JsonDocument.Parse(moved).RootElement[3][0].GetDouble(), 4.0);

        await page.GetByLabel("Size of the film").SelectOptionAsync("Another, measured");
        await page.GetByLabel("One side").FillAsync("20");
        await page.GetByLabel("The other", new() { Exact = false }).FillAsync("50");
        await page.LookAtEverySize("case-straighten-marked");
        await keep.ClickAsync();
        await Assertions.Expect(page.GetByText("times as long as it is wide")).ToBeVisibleAsync();
        await bench.Ready();
        await Assertions.Expect(marks).ToHaveValueAsync(moved);

        await page.GetByLabel("The other", new() { Exact = false }).FillAsync(string.Create(CultureInfo.InvariantCulture, $"{20.0 * Films.Height / Films.Width:0.0}"));
        await keep.ClickAsync();
        await page.WaitForURLAsync("**/draw");
        await bench.Ready();
        await Assertions.Expect(page.Locator("#scale")).ToContainTextAsync("from the corners of a photographed film");
        await page.LookAtEverySize("case-straightened");
        await page.GotoAsync(caseAddress + "/films");
        await Assertions.Expect(page.GetByText("Straightened from a photograph")).ToBeVisibleAsync();
        Assert.All(bench.Complaints, complaint => Assert.Contains("422", complaint, StringComparison.Ordinal));
    }

    private static PixelPoint Place(double across, double down) => new(across * Films.Width, down * Films.Height);
}
