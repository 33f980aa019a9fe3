using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

/// <summary>Every invented example is opened, compared and looked at; the pictures stay in artifacts/screenshots.</summary>
public sealed class ExamplesTests(Workbench workbench, Chromium chromium)
{
    [Theory]
    [MemberData(nameof(LooksTests.SizesAndThemes), MemberType = typeof(LooksTests))]
    public async Task Every_invented_example_comes_to_its_result_with_nothing_cut_off(int width, int height, ColorScheme theme)
    {
        await using var bench = await Bench.Open(workbench, chromium, new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ColorScheme = theme,
        });
        var examples = await bench.Page.Locator("[data-example]").EvaluateAllAsync<string[]>("buttons => buttons.map(button => button.dataset.example)");
        Assert.Equal(7, examples.Length);
        foreach (var example in examples)
        {
            await bench.Page.Locator($"[data-example={example}]").ClickAsync();
            await bench.Page.Locator("#canals > li").First.WaitForAsync();
            await bench.AllTraced(await bench.Page.Locator("#canals > li").CountAsync());
            await bench.Compare();
            await Expect(bench.Page.Locator("#refusal")).ToBeHiddenAsync();
            await bench.Page.Mouse.MoveAsync(1, 1);
            await bench.Look("after");
            await bench.Picture(string.Create(CultureInfo.InvariantCulture, $"example-{width}-{theme}-{example}"));

            Assert.Empty(await bench.Page.Misfits(example));
            await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Start over with other films" }).ClickAsync();
            await Expect(bench.Page.GetByText("Choose two films")).ToBeVisibleAsync();
        }

        Assert.Empty(bench.Complaints);
    }
}
