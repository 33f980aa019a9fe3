using Microsoft.Playwright;
using Secondpass.Browser;

[assembly: AssemblyFixture(typeof(Chromium))]

namespace Secondpass.Browser;

/// <summary>One Chromium for all tests; each test has a fresh profile in it.</summary>
public sealed class Chromium : IAsyncLifetime
{
    // Features of the browser's own window, which nobody sees here: above all the list below its address bar is a page of its own, which costs
    // each fresh profile a second of computing. A browser takes the last list it is given, so those that Playwright 1.64 turns off stand here too.
    private static readonly string[] Off =
    [
        "WebUIOmniboxPopup", "WebUIOmniboxAimPopup",
        "AvoidUnnecessaryBeforeUnloadCheckSync", "DestroyProfileOnBrowserClose", "DialMediaRouteProvider", "GlobalMediaControls", "HttpsUpgrades", "LensOverlay",
        "MediaRouter", "PaintHolding", "ThirdPartyStoragePartitioning", "BlockOriginHeaderModificationOnRedirect", "AvoidCorsURLLoaderRestartOnRedirect",
        "Translate", "AutoDeElevate", "OptimizationHints", "NetworkTimeServiceQuerying", "AimEnabled",
    ];

    private IPlaywright playwright = default!;
    private IBrowser browser = default!;

    /// <inheritdoc/>
    public async ValueTask InitializeAsync()
    {
        // Long enough for a busy machine: a test says what comes, not how fast.
        Assertions.SetDefaultExpectTimeout(60_000);
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Environment.GetEnvironmentVariable("CHROMIUM") ?? "/usr/bin/chromium",
            Args =
            [
                "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                "--disable-background-networking", "--disable-component-update", "--disable-sync",
                "--disable-features=" + string.Join(',', Off),
            ],
        });
    }

    /// <summary>A fresh profile.</summary>
    public Task<IBrowserContext> Profile(BrowserNewContextOptions options) => browser.NewContextAsync(options);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await browser.CloseAsync();
        playwright.Dispose();
    }
}
