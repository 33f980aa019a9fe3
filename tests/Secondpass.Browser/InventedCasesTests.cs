using Microsoft.Playwright;

namespace Secondpass.Browser;

/// <summary>Every page of every invented case is opened; on a long run in all sizes and themes, with pictures in artifacts/screenshots/cases.</summary>
public sealed class InventedCasesTests(Workbench workbench, Chromium chromium)
{
    private static readonly string[] Pages = ["", "/referral", "/assessment", "/canals", "/scan", "/films", "/lengths", "/plan", "/visit", "/finish", "/letter"];

    [Theory]
    [MemberData(nameof(SizesLookedAt))]
    public async Task No_page_of_an_invented_case_cuts_anything_off(int width, int height, ColorScheme theme)
    {
        await using var bench = await Bench.Open(
            workbench,
            chromium,
            new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = width, Height = height }, ColorScheme = theme },
            "/cases");
        await bench.ClinicWritten();
        await Look("list");
        foreach (var address in await Cases(bench.Page))
        {
            await bench.Page.GotoAsync(address);
            var number = await bench.Page.Locator(".patient strong").First.TextContentAsync();
            foreach (var page in Pages)
            {
                await bench.Page.GotoAsync(address + page);
                await Look(number + page.Replace('/', '-'));
            }
        }

        Assert.Empty(bench.Complaints);

        async Task Look(string state)
        {
            if (Looks.IsLong)
            {
                await bench.Page.ScreenshotAsync(new() { Path = Workbench.Artifact("screenshots", "cases", string.Create(CultureInfo.InvariantCulture, $"{width}-{theme}-{state}.png")), FullPage = true });
            }

            Assert.Empty(await bench.Page.Misfits(state));
        }
    }

    /// <summary>What fits the narrow window fits the wide one, and layout doesn't depend on the theme.</summary>
    public static TheoryData<int, int, ColorScheme> SizesLookedAt() => Looks.IsLong ? LooksTests.SizesAndThemes : new() { { 820, 1180, ColorScheme.Light } };

    private static Task<string[]> Cases(IPage page) =>
        page.Locator("a.case").EvaluateAllAsync<string[]>("cases => cases.filter(one => /D-1(0[1-9]|10)\\b/.test(one.textContent)).map(one => one.getAttribute('href'))");
}
