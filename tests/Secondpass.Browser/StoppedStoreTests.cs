using System.Text.Json;
using Microsoft.Playwright;
using Secondpass.Tests.Records;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

/// <summary>The PostgreSQL server goes away under a clinic's hands, and comes back.</summary>
public sealed class StoppedStoreTests(Chromium chromium)
{
    [Fact]
    public async Task What_was_typed_while_the_store_was_away_is_kept_on_the_page_and_taken_in_when_it_is_back()
    {
        using var server = PostgresCluster.StartOwn();
        await using var workbench = new Workbench { Store = server.Create() };
        await workbench.InitializeAsync();
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases/new");
        var page = bench.Page;
        await page.GetByLabel("Sent by").FillAsync("Dr Invented");
        await page.GetByLabel("Practice and address").FillAsync("Practice at the Invented Mill\n4 Nowhere Lane");
        await page.GetByLabel("Patient number").FillAsync("S-1");
        await page.GetByLabel("Tooth").FillAsync("16");
        await page.GetByLabel("Reason").FillAsync("\nPain on biting, \"at times\" <more> than before");
        await page.GetByLabel("As a file").SetInputFilesAsync(new FilePayload { Name = "letter.pdf", MimeType = "application/pdf", Buffer = [.. "%PDF-1.4"u8] });

        server.Stop();
        await page.GetByRole(AriaRole.Button, new() { Name = "Open the case" }).ClickAsync();

        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("This could not be taken in just now");
        await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("can't be reached, or the connection was lost.");
        await Expect(page.GetByRole(AriaRole.Main)).ToContainTextAsync("Nothing that was entered before is lost.");
        await Expect(page.Locator("dl div").Filter(new() { Has = page.GetByText("Reason", new() { Exact = true }) })).ToContainTextAsync("Pain on biting, \"at times\" <more> than before");
        await Expect(page.GetByLabel("Choose “letter.pdf” again")).ToBeVisibleAsync();
        Assert.DoesNotContain(PostgresCluster.Password, await page.ContentAsync(), StringComparison.Ordinal);
        await page.LookAtEverySize("store-away-form");

        // Sent while it is still away, nothing is lost either.
        await page.GetByRole(AriaRole.Button, new() { Name = "Send it again" }).ClickAsync();
        await Expect(page.Locator("dl div").Filter(new() { Has = page.GetByText("Reason", new() { Exact = true }) })).ToContainTextAsync("Pain on biting, \"at times\" <more> than before");

        await using var other = await Bench.Open(workbench, chromium, path: "/cases");
        await Expect(other.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("This page can't be shown just now");
        await other.Page.LookAtEverySize("store-away-page");
        var asked = await other.Page.APIRequest.GetAsync("/api/cases/x/films");
        Assert.Equal((503, "store_not_reached"), (asked.Status, JsonSerializer.Deserialize<JsonElement>(await asked.TextAsync()).GetProperty("code").GetString()));

        server.Run();
        await page.GetByRole(AriaRole.Button, new() { Name = "Send it again" }).ClickAsync();
        await Expect(page.Locator(".tooth")).ToHaveTextAsync("16 upper right first molar");
        await Expect(page.Locator(".reason")).ToContainTextAsync("Pain on biting, \"at times\" <more> than before");
        await other.Page.GetByRole(AriaRole.Link, new() { Name = "Try again" }).ClickAsync();
        await Expect(other.Page.Locator("strong", new() { HasText = "S-1" })).ToBeVisibleAsync();
        await page.GotoAsync(page.Url + "/referral");
        await Expect(page.GetByLabel("Practice and address")).ToHaveValueAsync("Practice at the Invented Mill\n4 Nowhere Lane");
    }
}
