using Microsoft.Playwright;

namespace Secondpass.Browser;

public sealed class LooksTests(Workbench workbench, Chromium chromium)
{
    /// <summary>Layout doesn't depend on the theme, nor colours on the size: each is looked at once, and on a long run with each other.</summary>
    public static TheoryData<int, int, ColorScheme> SizesAndThemes { get; } = Looks.IsLong
        ? new()
        {
            { 1280, 800, ColorScheme.Light },
            { 1280, 800, ColorScheme.Dark },
            { 820, 1180, ColorScheme.Light },
            { 820, 1180, ColorScheme.Dark },
        }
        : new()
        {
            { 1280, 800, ColorScheme.Light },
            { 820, 1180, ColorScheme.Dark },
        };

    [Theory]
    [MemberData(nameof(SizesAndThemes))]
    public async Task Every_state_of_the_page_is_accessible(int width, int height, ColorScheme theme)
    {
        var films = FilmFiles.ThreeCanals;
        var name = string.Create(CultureInfo.InvariantCulture, $"{width}-{theme}");
        await using var bench = await Bench.Open(workbench, chromium, new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ColorScheme = theme,
        });

        await Look("1-empty");
        await bench.DropBoth(films);
        await Look("2-asked");
        await bench.SayFillingOut();
        await bench.TraceCanals(films);
        await Look("3-traced");
        await bench.Compare();
        await Look("4-result");
        foreach (var view in new[] { "Difference", "Slider", "Flicker", "Film" })
        {
            await bench.Page.GetByRole(AriaRole.Radio, new() { Name = view, Exact = true }).CheckAsync();
            await Look("5-" + view);
        }

        await bench.Page.GotoAsync("/settings");
        await Look("6-settings");
        await bench.Page.GotoAsync("/what-is-left/kept");
        await Look("7-kept");
        await bench.Page.GotoAsync("/no-such-page");
        await Look("8-not-found");
        Assert.DoesNotContain(bench.Complaints, complaint => !complaint.Contains("404", StringComparison.Ordinal));

        async Task Look(string state)
        {
            await bench.Page.Mouse.MoveAsync(1, 1);
            await bench.Picture($"{name}-{state}");
            Assert.Empty(await bench.Page.Faults(state));
        }
    }

    [Theory]
    [MemberData(nameof(SizesAndThemes))]
    public async Task The_notice_at_the_first_start_is_accessible_and_nothing_else_is_shown_before_it_is_accepted(int width, int height, ColorScheme theme)
    {
        await using var fresh = new Workbench { HasClinic = false };
        await fresh.InitializeAsync();
        await using var profile = await chromium.Profile(new BrowserNewContextOptions
        {
            BaseURL = fresh.Address.ToString(),
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ColorScheme = theme,
        });
        var page = await profile.NewPageAsync();
        foreach (var path in new[] { "/what-is-left", "/settings", "/what-is-left/kept" })
        {
            await page.GotoAsync(path);
            await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("not a certified medical device");
            await Assertions.Expect(page.GetByRole(AriaRole.Navigation)).ToHaveCountAsync(0);
        }

        await page.ScreenshotAsync(new() { Path = Workbench.Artifact("screenshots", string.Create(CultureInfo.InvariantCulture, $"{width}-{theme}-0-notice.png")) });
        Assert.Empty(await page.Faults("notice"));

        await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.PressAsync("Tab");
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "I am a licensed clinician, begin" })).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.GetByRole(AriaRole.Navigation)).ToBeVisibleAsync();
    }

    [Theory]
    [MemberData(nameof(SizesAndThemes))]
    public async Task A_kept_result_is_accessible_where_it_was_made_in_the_list_and_by_itself(int width, int height, ColorScheme theme)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"{width}-{theme}");
        await using var bench = await Bench.Open(workbench, chromium, new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ColorScheme = theme,
        });
        await bench.Page.Locator("[data-example=lower-molar-split-distal-canal]").ClickAsync();
        await bench.AllTraced(4);
        await bench.Compare();
        await bench.Page.Locator("#label").FillAsync("Kept and looked at " + name);
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Keep", Exact = true }).ClickAsync();
        var seeIt = bench.Page.GetByRole(AriaRole.Link, new() { Name = "See it" });
        await seeIt.WaitForAsync();
        await Look("9-kept-here");

        await seeIt.ClickAsync();
        await Assertions.Expect(bench.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Kept and looked at " + name);
        await Look("9-kept-result");
        await bench.Page.GetByText("Remove this result").ClickAsync();
        await Look("9-kept-remove-asked");
        await bench.Page.GotoAsync("/what-is-left/kept");
        await Look("9-kept-list");
        Assert.Empty(bench.Complaints);

        async Task Look(string state)
        {
            await bench.Page.Mouse.MoveAsync(1, 1);
            await bench.Picture($"{name}-{state}");
            Assert.Empty(await bench.Page.Faults(state));
        }
    }

    [Fact]
    public async Task Faults_planted_in_a_page_are_found_and_again_after_it_was_looked_at()
    {
        await using var bench = await Bench.Open(workbench, chromium, path: "/settings");
        Assert.Empty(await bench.Page.Faults("as it is"));

        await bench.Page.EvaluateAsync(
            """
            () => {
              const main = document.querySelector('main');
              main.append(document.createElement('img'));
              const pale = document.createElement('p');
              pale.textContent = 'hardly to be read';
              pale.style.cssText = 'color: rgb(200 200 200); background: white';
              main.append(pale);
              const wide = document.createElement('p');
              wide.style.width = '3000px';
              main.append(wide);
            }
            """);

        var faults = await bench.Page.Faults("planted");
        foreach (var fault in new[] { "planted: image-alt: ", "planted: color-contrast: ", "planted: sticks out: " })
        {
            Assert.Contains(faults, one => one.StartsWith(fault, StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task No_inline_script_or_style_is_let_in()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        foreach (var path in new[] { "/what-is-left", "/settings", "/what-is-left/kept", "/api/films/x" })
        {
            var answer = await bench.Page.APIRequest.GetAsync(path);
            var policy = answer.Headers["content-security-policy"];
            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
            Assert.Contains("script-src 'self'", policy, StringComparison.Ordinal);
            Assert.Contains("style-src 'self'", policy, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_theme_chosen_in_the_settings_is_kept()
    {
        await using var bench = await Bench.Open(workbench, chromium, path: "/settings");
        var paper = "() => getComputedStyle(document.body).backgroundColor";
        var light = await bench.Page.EvaluateAsync<string>(paper);

        await bench.Page.GetByRole(AriaRole.Radio, new() { Name = "Dark", Exact = true }).CheckAsync();
        await bench.Page.GotoAsync("/what-is-left");

        Assert.NotEqual(light, await bench.Page.EvaluateAsync<string>(paper));
    }

    [Fact]
    public async Task The_result_prints_without_buttons_on_white_paper()
    {
        await using var bench = await Bench.Open(workbench, chromium, new BrowserNewContextOptions { ColorScheme = ColorScheme.Dark });
        await bench.DropBoth(FilmFiles.ThreeCanals);
        await bench.SayFillingOut();
        await bench.TraceCanals(FilmFiles.ThreeCanals);
        await bench.Compare();

        await bench.Page.EmulateMediaAsync(new() { Media = Media.Print });
        await bench.Picture("print");

        Assert.Equal("rgb(255, 255, 255)", await bench.Page.EvaluateAsync<string>("() => getComputedStyle(document.body).backgroundColor"));
        Assert.Equal(0, await bench.Page.Locator("button:visible").CountAsync());
    }

    [Theory]
    [MemberData(nameof(SizesAndThemes))]
    public async Task Two_kept_results_of_one_tooth_are_read_together_and_the_page_is_accessible(int width, int height, ColorScheme theme)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"{width}-{theme}");
        await using (await Kept(FilmFiles.ThreeCanals, "Straight " + name))
        {
        }

        await using var bench = await Kept(FilmFiles.WithMovedMaterial, "Turned " + name);
        await Look("9-another-angle-offered");
        await bench.Page.GetByRole(AriaRole.Link, new() { Name = "Straight " + name }).ClickAsync();

        await Assertions.Expect(bench.Page.GetByText("is the first pair")).ToBeVisibleAsync();
        await Look("9-read-together");

        async Task<Bench> Kept(FilmFiles films, string label)
        {
            var open = await Bench.Open(workbench, chromium, new BrowserNewContextOptions
            {
                ViewportSize = new ViewportSize { Width = width, Height = height },
                ColorScheme = theme,
            });
            await open.DropBoth(films);
            await open.SayFillingOut();
            await open.TraceCanals(films);
            await open.Page.Locator("#tooth").SelectOptionAsync("46");
            await open.Compare();
            await open.Page.Locator("#label").FillAsync(label);
            await open.Page.GetByRole(AriaRole.Button, new() { Name = "Keep", Exact = true }).ClickAsync();
            await open.Page.GetByRole(AriaRole.Link, new() { Name = "See it" }).ClickAsync();
            return open;
        }

        async Task Look(string state)
        {
            await bench.Page.Locator("#together").ScrollIntoViewIfNeededAsync();
            await bench.Picture($"{name}-{state}");
            Assert.Empty(await bench.Page.Faults(state));
        }
    }
}
