using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Secondpass.Domain.Films;

namespace Secondpass.Browser;

/// <summary>A film without a scale gets one from an object of known length on it.</summary>
public sealed class KnownLengthTests(Workbench workbench, Chromium chromium)
{
    private static readonly FilmFiles Films = FilmFiles.ThreeCanals;
    private static readonly PixelPoint Middle = new(Films.Width / 2.0, Films.Height / 2.0);

    [Fact]
    public async Task A_line_on_an_object_of_known_length_becomes_the_film_s_scale_is_used_replaced_and_taken_back()
    {
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        var caseAddress = await page.OpenCase("D-6", "46");
        await page.GotoAsync(caseAddress + "/films");
        await page.GetByLabel("Files").SetInputFilesAsync(new FilePayload { Name = "scan.png", MimeType = "image/png", Buffer = Films.Before });
        await page.GetByRole(AriaRole.Button, new() { Name = "Attach the films" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Draw on it" }).ClickAsync();
        await bench.Ready();
        var (scale, figures, length) = (page.Locator("#scale"), page.Locator("#figures"), page.GetByLabel("Its true length"));
        var take = page.Locator("#as-scale");
        await Assertions.Expect(scale).ToContainTextAsync("This film has no scale yet");
        await Assertions.Expect(length).ToBeHiddenAsync();

        // A length of 9 mm is read as soon as a pixel size is typed; it is kept, and tells later that it had another scale.
        await Line(-60, 150);
        await page.GetByLabel("Size of one pixel").FillAsync("0.03");
        await Assertions.Expect(figures).ToContainTextAsync("length 9.0 mm");
        await page.Locator("#name").FillAsync("Mesial root");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep it" }).ClickAsync();
        await Assertions.Expect(page.Locator(".kept")).ToContainTextAsync("Mesial root");
        await bench.Ready();

        await Line(40, 250);
        await Assertions.Expect(take).ToBeDisabledAsync();
        await length.FillAsync("21 cm");
        await take.ClickAsync();
        await Assertions.Expect(page.GetByText("“21 cm” is not a number.")).ToBeVisibleAsync();
        await bench.Ready();
        await Assertions.Expect(length).ToHaveValueAsync("21 cm");
        await page.LookAtEverySize("case-known-length-refused");

        // A reload loses nothing; Enter takes it as the scale.
        await page.GotoAsync(page.Url);
        await bench.Ready();
        await Assertions.Expect(length).ToHaveValueAsync("21 cm");
        await length.FillAsync("16");
        await length.PressAsync("Enter");
        await Assertions.Expect(scale).ToContainTextAsync(new Regex(@"0\.03(19|2|21) mm per pixel, from a known length of 16 mm on the film, ±3\.9 %"));
        await bench.Ready();
        await Assertions.Expect(scale).ToContainTextAsync("holds where the object lies in the film's plane as the tooth does");
        await Assertions.Expect(page.GetByLabel("Size of one pixel")).ToBeHiddenAsync();
        await Assertions.Expect(page.Locator(".kept li").First).ToContainTextAsync("The film has another scale by now.");
        await page.LookAtEverySize("case-known-length");

        await Line(0, 150);
        await Assertions.Expect(figures).ToContainTextAsync("length 9.6 mm");
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure anew Mesial root" }).ClickAsync();
        await Assertions.Expect(page.Locator(".kept li").First).ToContainTextAsync("length 9.6 mm");
        await Assertions.Expect(page.Locator(".kept li").First).ToContainTextAsync("from an object of known length on the film");
        await bench.Ready();

        // What was drawn and not kept is still there; it takes the other's place as the scale.
        await Assertions.Expect(figures).ToContainTextAsync("length 9.6 mm");
        await length.FillAsync("10,5");
        await take.ClickAsync();
        await Assertions.Expect(scale).ToContainTextAsync(new Regex(@"0\.03(49|5|51) mm per pixel, from a known length of 10\.5 mm on the film"));
        await bench.Ready();

        await page.GetByRole(AriaRole.Link, new() { Name = "Measure canals on it" }).ClickAsync();
        await bench.Ready();
        await Assertions.Expect(scale).ToContainTextAsync("from a known length of 10.5 mm on the film");
        await bench.ClickFilm(Films, Films.Canals[2].Orifice, "film");
        await bench.ClickFilm(Films, Films.Canals[2].End, "film");
        await Assertions.Expect(page.Locator("#measured")).ToContainTextAsync(") long");
        await page.LookAtEverySize("case-known-length-measured");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take into the table" }).ClickAsync();
        await page.WaitForURLAsync("**/canals");
        await page.GotoAsync(caseAddress.Replace("/cases/", "/what-is-left?case=", StringComparison.Ordinal));
        await page.WaitForFunctionAsync("() => sessionStorage.getItem('what-is-left')?.includes('\"length_mm\":10.5')");

        await page.GotoAsync(caseAddress + "/films");
        await Assertions.Expect(page.GetByText("Scale from a known length of 10.5 mm on it")).ToBeVisibleAsync();
        await page.LookAtEverySize("case-known-length-films");
        await page.GetByRole(AriaRole.Link, new() { Name = "Draw on it" }).ClickAsync();
        await bench.Ready();
        await page.GetByRole(AriaRole.Button, new() { Name = "Take the known length of 10.5 mm back" }).ClickAsync();
        await Assertions.Expect(scale).ToContainTextAsync("This film has no scale yet");
        await page.GotoAsync(caseAddress);
        await Assertions.Expect(page.GetByText("a film’s scale from a known length taken back")).ToBeVisibleAsync();

        // A film without a scale is said in its place; nothing else was complained about.
        Assert.All(bench.Complaints, complaint => Assert.Contains("422", complaint, StringComparison.Ordinal));

        async Task Line(double across, double half)
        {
            await bench.ClickFilm(Films, new PixelPoint(Middle.X + across, Middle.Y - half), "film");
            await bench.ClickFilm(Films, new PixelPoint(Middle.X + across, Middle.Y + half), "film");
        }
    }
}
