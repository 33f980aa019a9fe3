using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

/// <summary>What is done again and again on the pages of a case.</summary>
internal static class CasePages
{
    /// <summary>Opens a case on the page for a new one.</summary>
    /// <returns>Its address.</returns>
    public static async Task<string> OpenCase(this IPage page, string number, string tooth)
    {
        await page.GetByLabel("Patient number").FillAsync(number);
        await page.GetByLabel("Tooth").FillAsync(tooth);
        await page.GetByLabel("Reason").FillAsync("Pain on biting");
        await page.GetByRole(AriaRole.Button, new() { Name = "Open the case" }).ClickAsync();
        await page.Locator(".tooth").WaitForAsync();
        return page.Url;
    }

    /// <summary>Presses the next mark of a visit, and waits until it is on the record.</summary>
    public static async Task PressMark(this IPage page, string mark, string? canal = null)
    {
        await page.Settled();
        await page.Locator("button.step").Filter(new() { HasText = mark }).ClickAsync();
        await Expect(page.Locator(".record")).ToContainTextAsync(canal is null ? mark : $"{mark}, {canal}");
    }

    /// <summary>Waits until a tap counts: one in the first moment after a page came is taken for the second one of a double tap.</summary>
    public static Task Settled(this IPage page) => page.WaitForFunctionAsync("() => performance.now() > 900");
}
