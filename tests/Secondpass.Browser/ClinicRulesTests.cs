using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

/// <summary>What holds for the whole clinic: how a use is counted, and in which currency fees are told.</summary>
public sealed class ClinicRulesTests(Chromium chromium)
{
    // In a clinic of its own: other tests count and charge in theirs.
    [Fact]
    public async Task Uses_are_counted_and_fees_are_told_as_the_clinic_says()
    {
        await using var workbench = new Workbench();
        await workbench.InitializeAsync();
        await using var bench = await Bench.Open(workbench, chromium, path: "/instruments");
        var page = bench.Page;

        var item = page.Locator("tr").Filter(new() { HasText = "retreatment rotary 30/.06" }).First;
        await Expect(item).ToContainTextAsync(" of 5");
        await page.GetByLabel("Single use.").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save how uses are counted" }).ClickAsync();
        await Expect(item).ToContainTextAsync(" of 1");
        await Expect(page.GetByText("Each file is used once, on one tooth in one visit; other instruments as their kind permits.")).ToBeVisibleAsync();
        await Expect(page.GetByLabel("Single use.")).ToBeCheckedAsync();
        await page.LookAtEverySize("rules-instruments");

        await page.GotoAsync("/cases/new");
        var path = await page.OpenCase("R-1", "16");
        await page.GotoAsync(path + "/assessment");
        await Expect(page.GetByText("Currency not set: Settings")).ToBeVisibleAsync();
        await page.LookAtEverySize("rules-no-currency");
        await page.GetByLabel("The patient agreed to exploration only").CheckAsync();
        await page.GetByLabel("Fee for that").FillAsync("120,50");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the assessment" }).ClickAsync();
        await page.Locator(".tooth").WaitForAsync();
        await Expect(page).ToHaveURLAsync(path);

        await page.GotoAsync("/settings");
        await page.GetByLabel("For the whole clinic, in three letters").FillAsync("yen");
        await page.Locator("form").Filter(new() { Has = page.Locator("#currency-code") }).GetByRole(AriaRole.Button).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("“yen” is not a currency that is known here.");
        await Expect(page.Locator("#currency-code")).ToHaveValueAsync("yen");
        await page.Locator("#currency-code").FillAsync("jpy");
        await page.Locator("form").Filter(new() { Has = page.Locator("#currency-code") }).GetByRole(AriaRole.Button).ClickAsync();
        await Expect(page.Locator("#currency-code")).ToHaveValueAsync("JPY");
        await page.LookAtEverySize("rules-settings");

        // What was told before keeps having none, until it is said.
        await page.GotoAsync(path + "/assessment");
        await Expect(page.GetByText("treatment ends with the exploration. Its fee is 120.50 (no currency noted).")).ToBeVisibleAsync();
        var inYen = page.GetByLabel("This fee is in JPY; it was noted before a currency was set");
        await Expect(inYen).Not.ToBeCheckedAsync();
        await page.LookAtEverySize("rules-fee");
        await inYen.CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the assessment" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("The fee for exploration only: “120.50” has more decimals than JPY has.");
        await page.GetByLabel("Fee for that").FillAsync("18000");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the assessment" }).ClickAsync();
        await Expect(page).ToHaveURLAsync(path);
        await page.GotoAsync(path + "/assessment");
        await Expect(page.GetByText("Its fee is JPY 18000.")).ToBeVisibleAsync();
        await Expect(page.GetByLabel("Fee for that as told, in JPY")).ToHaveValueAsync("18000");
        Assert.Empty(bench.Complaints);
    }
}
