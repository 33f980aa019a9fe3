using Microsoft.Playwright;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Quantities;
using Secondpass.Records;
using Secondpass.Records.Events;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

public sealed class PlanTests(Workbench workbench, Chromium chromium)
{
    [Theory]
    [MemberData(nameof(LooksTests.SizesAndThemes), MemberType = typeof(LooksTests))]
    public async Task A_plan_is_made_changed_used_and_printed_and_instruments_are_kept(int width, int height, ColorScheme theme)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"{width}-{theme}");
        await using var bench = await Bench.Open(workbench, chromium, new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ColorScheme = theme,
        }, "/instruments");
        var page = bench.Page;

        // An instrument used twice before stands at a position of its own.
        var position = $"kit {name}, 3";
        await page.GetByLabel("New instrument").SelectOptionAsync(new SelectOptionValue { Label = "retreatment rotary 30/.06" });
        await page.GetByLabel("Position such as kit A, 3; empty: loose").FillAsync(position);
        await page.GetByLabel("Uses before").FillAsync("2");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take into stock" }).ClickAsync();
        await Expect(page.Locator($"input[value='{position}']")).ToBeVisibleAsync();

        // A sequence is saved by its name, and its speed held against the maker's range.
        await page.GetByText("A new sequence").ClickAsync();
        var fields = page.Locator("form").Filter(new() { Has = page.Locator("#new-name") });
        await fields.Locator("#new-name").FillAsync($"Brisk {name}");
        await fields.GetByLabel("Step 1, instrument").SelectOptionAsync(new SelectOptionValue { Label = "retreatment rotary 30/.06" });
        await fields.GetByLabel("Step 1, speed in rpm").FillAsync("350");
        await fields.GetByRole(AriaRole.Button, new() { Name = "Save the sequence" }).ClickAsync();
        await Expect(page.Locator("article").Filter(new() { HasText = $"Brisk {name}" })).ToContainTextAsync("350 rpm is outside the maker's 150–300 rpm for retreatment rotary 30/.06, by 50 rpm above.");
        await page.GetByText("What is published", new() { Exact = true }).ClickAsync();
        await Look("instruments");

        var path = Opened(name);
        await page.GotoAsync(path + "/plan");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Proposed, not in use yet" })).ToBeVisibleAsync();
        await page.GetByText("Set by you").ClickAsync();
        await page.GetByLabel("No deeper than mm from the reference").First.FillAsync("15.5");
        await page.GetByRole(AriaRole.Radio, new() { Name = $"Brisk {name}", Exact = true }).CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Show it anew" }).ClickAsync();
        var card = page.Locator("article").Filter(new() { HasText = "retreatment rotary 30/.06" }).First;
        await Expect(card).ToContainTextAsync("15.5 mm");
        await Expect(card).ToContainTextAsync("Your own limit for D: no deeper than 15.5 mm.");

        // The taper is the largest sign on an instrument.
        var sizes = await card.EvaluateAsync<double[]>("(card) => [...card.querySelectorAll('p, span, strong, li')].filter((one) => !one.matches('.taper, .depth')).map((one) => parseFloat(getComputedStyle(one).fontSize))");
        Assert.True(await card.Locator(".taper").EvaluateAsync<double>("(sign) => parseFloat(getComputedStyle(sign).fontSize)") > sizes.Max());
        await page.GetByRole(AriaRole.Button, new() { Name = "Use as the plan" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = $"The plan in use: Brisk {name}" })).ToBeVisibleAsync();
        await Look("plan");

        // What was set stands there again when the page is opened later.
        await page.GotoAsync(path + "/plan");
        await Expect(page.GetByLabel("No deeper than mm from the reference").First).ToHaveValueAsync("15.5");

        // A5 is 419.5 × 595.3 points (ISO 216: 148 × 210 mm).
        var paper = await page.APIRequest.GetAsync(await page.GetByRole(AriaRole.Link, new() { Name = "A5 plan (PDF)" }).EvaluateAsync<string>("(link) => link.href"));
        Assert.Matches(@"MediaBox ?\[0 0 (419|420)[.\d]* (594|595)[.\d]*\]", System.Text.Encoding.Latin1.GetString(await paper.BodyAsync()));
        Assert.Empty(bench.Complaints);

        async Task Look(string state)
        {
            await page.Mouse.MoveAsync(1, 1);
            await page.ScreenshotAsync(new() { Path = Workbench.Artifact("screenshots", $"{name}-{state}.png"), FullPage = true });
            Assert.Empty(await page.Faults(state));
        }
    }

    private string Opened(string number)
    {
        using var store = ClinicStore.Open(workbench.Data, TimeProvider.System).Value;
        var by = new Author("Anna", "desk-1");
        var cusp = new ReferencePoint("mesiobuccal cusp", 1);
        var it = store.Cases.Open(new CaseOpened(new Patient(number, null), ToothNumber.Parse("46").Value, new Referral(null, null, "pain on biting", null, Urgent: false, null)), by).Value;
        store.Cases.Append(it.Id, it.Version, by, [new CanalsNoted([Canal("D", CanalIntent.Retreat, []), Canal("ML", CanalIntent.LeaveAlone, []), Canal("MB", CanalIntent.Retreat, [Obstacle.Ledge])])]);
        return $"/cases/{it.Id}";

        CanalRecord Canal(string name, CanalIntent intent, IReadOnlyList<Obstacle> obstacles) => new(
            name, name, null, null, Found: true, CanalFilling.ShortOfEnd, new Millimetres(3), null, intent, obstacles, [new LengthReading(cusp, LengthEnd.RadiographicApex, new Millimetres(20), LengthSource.Film)], FoundLater: false);
    }
}
