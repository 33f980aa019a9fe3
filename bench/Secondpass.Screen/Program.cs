using System.Text;
using Microsoft.Playwright;
using Secondpass.Phantoms.Truth;
using Secondpass.Screen;

// How fast films of three megapixels come up in a real browser, what they hold in memory, and whether the page follows the pointer.
// Run in the repository: dotnet run -c Release --project bench/Secondpass.Screen > bench/results/films-on-screen.txt
const int Rounds = 9;
const int Films = 10;

var pair = PhantomPair.Make(7, new PairOptions { Change = PairChange.Drawn(7, 0.5) });
var films = Enumerable.Range(1, Films).Select(number => LargeFilm.Of(pair, number)).ToArray();
var said = new StringBuilder();
void Say(string line) => said.AppendLine(line);

await using var served = await Served.Start();
using var playwright = await Playwright.CreateAsync();
await using var browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
{
    ExecutablePath = Environment.GetEnvironmentVariable("CHROMIUM") ?? "/usr/bin/chromium",
    Args = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});
Say(string.Create(CultureInfo.InvariantCulture, $"Simulated films of {films[0].Width} x {films[0].Height} pixels, 16 bits, as DICOM files; Chromium {browser.Version} without a graphics card, {Environment.ProcessorCount} cores, {Rounds} rounds."));

var (caseAddress, emptyCase, drawAddress) = await Prepare();
await FirstPixels();
await Dropped();
await Pointer(films[0], films[1]);
await Pointer(LargeFilm.Of(pair, 1, 900 * 1300), LargeFilm.Of(pair, 2, 900 * 1300));
await TenFilms();
Console.Write(said);
return 0;

async Task<IBrowserContext> Profile()
{
    var profile = await browser.NewContextAsync(new() { BaseURL = served.Address, ViewportSize = new() { Width = 1280, Height = 800 } });
    profile.SetDefaultTimeout(120_000);
    return profile;
}

async Task<(string Full, string Empty, string Draw)> Prepare()
{
    await using var profile = await Profile();
    var page = await profile.NewPageAsync();
    await page.GotoAsync("/cases/new");
    await page.GetByRole(AriaRole.Button, new() { Name = "I am a licensed clinician, begin" }).ClickAsync();
    var empty = await OpenCase("SCREEN-1");
    var full = await OpenCase("SCREEN-2");
    await page.GotoAsync(full + "/films");
    for (var index = 0; index < Films; index++)
    {
        await page.GetByLabel("Files").SetInputFilesAsync(new FilePayload { Name = "film.dcm", MimeType = "application/dicom", Buffer = films[index].File });
        await page.GetByRole(AriaRole.Button, new() { Name = "Attach the films" }).ClickAsync();
        await page.Locator(".film-of-case img").Nth(index).WaitForAsync();
    }

    var draw = await page.GetByRole(AriaRole.Link, new() { Name = "Draw on it" }).First.GetAttributeAsync("href");
    return (full, empty, draw!);

    async Task<string> OpenCase(string number)
    {
        await page.GotoAsync("/cases/new");
        await page.GetByLabel("Patient number").FillAsync(number);
        await page.GetByLabel("Tooth").FillAsync("46");
        await page.GetByLabel("Reason").FillAsync("Pain on biting");
        await page.GetByRole(AriaRole.Button, new() { Name = "Open the case" }).ClickAsync();
        await page.Locator(".tooth").WaitForAsync();
        return page.Url;
    }
}

async Task FirstPixels()
{
    List<double> first = [], again = [], drawn = [];
    var own = double.PositiveInfinity;
    for (var round = 0; round < Rounds; round++)
    {
        await using var profile = await Profile();
        var page = await Tab.Open(profile);
        await page.GotoAsync(drawAddress);
        first.Add(await page.FirstLook());
        drawn.Add(await page.OwnPixels());
        await page.ReloadAsync();
        again.Add(await page.FirstLook());
        drawn.Add(await page.OwnPixels());
        own = Math.Min(own, await page.OwnDecoder());
    }

    Say($"A film of a case, from asking for its page until it is seen: {Spread(first)} in a browser that never saw the page, {Spread(again)} in one that did; drawn from its own pixels after {Spread(drawn)}; the browser's own decoder takes {own:0} ms for the same picture as PNG of 8 bits ({Median(again) / own:0.0} times).");
}

async Task Dropped()
{
    List<double> waits = [];
    for (var round = 0; round < Rounds; round++)
    {
        await using var profile = await Profile();
        var page = await Tab.Open(profile);
        await OpenBench(page);
        waits.Add(await Choose(page, "before", films[round % Films]));
    }

    Say($"A file chosen on “What is left”, until it is seen (read, decoded, sent back): {Spread(waits)}.");
}

async Task Pointer(LargeFilm before, LargeFilm after)
{
    await using var profile = await Profile();
    var page = await Tab.Open(profile);
    await OpenBench(page);
    await Choose(page, "before", before);
    await Choose(page, "after", after);
    await page.GetByRole(AriaRole.Button, new() { Name = "Filling out" }).ClickAsync();
    var canvas = page.Locator("#before canvas");
    var box = (await canvas.BoundingBoxAsync())!;
    var zoom = Math.Min(box.Width / before.Width, box.Height / before.Height);
    var (orificeX, orificeY) = Place(before.Orifice.X, before.Orifice.Y);
    var (endX, endY) = Place(before.End.X, before.End.Y);
    await page.Mouse.ClickAsync(orificeX, orificeY);
    await page.Mouse.ClickAsync(endX, endY);
    await page.Locator("#canals > li").WaitForAsync();
    await page.WaitForTimeoutAsync(1500);

    var still = await page.Clock();
    await page.WaitForTimeoutAsync(1000);
    var atRest = await page.FramesSince(still);
    var start = await page.Clock();
    await page.Mouse.MoveAsync(endX, endY);
    await page.Mouse.DownAsync();
    for (var step = 1; step <= 120; step++)
    {
        await page.Mouse.MoveAsync(endX + (float)(12 * Math.Sin(step / 8.0)), endY - (step / 10f));
    }

    var moved = await page.FramesSince(start);
    await page.Mouse.UpAsync();
    await page.WaitForTimeoutAsync(1500);
    var traces = await page.EvaluateAsync<double[]>("performance.getEntriesByType('resource').filter((one) => one.name.endsWith('/trace')).map((one) => one.duration)");
    Say(string.Create(CultureInfo.InvariantCulture, $"Dragging a pin on a film of {before.Width} x {before.Height} pixels for {moved.Sum() / 1000:0.0} s: a frame every {Quantile(moved, 0.5):0} ms, 95 % within {Quantile(moved, 0.95):0} ms, longest {moved[^1]:0} ms (at rest {Quantile(atRest, 0.5):0}, {Quantile(atRest, 0.95):0} and {atRest[^1]:0} ms). Answers to {traces.Length} traces: {Spread(traces)}."));

    (float X, float Y) Place(double x, double y) => (
        (float)(box.X + ((box.Width - (before.Width * zoom)) / 2) + ((x + 0.5) * zoom)),
        (float)(box.Y + ((box.Height - (before.Height * zoom)) / 2) + ((y + 0.5) * zoom)));
}

async Task TenFilms()
{
    await using var profile = await Profile();
    var page = await profile.NewPageAsync();
    await page.GotoAsync(emptyCase + "/films");
    await page.WaitForTimeoutAsync(2000);
    var (browserBefore, servedBefore) = Held();
    await page.GotoAsync(caseAddress + "/films");
    var watch = System.Diagnostics.Stopwatch.StartNew();
    await page.WaitForFunctionAsync($"() => [...document.querySelectorAll('.film-of-case img')].filter((one) => one.complete && one.naturalWidth > 300).length === {Films}");
    var seen = watch.Elapsed.TotalSeconds;
    var (browserMost, servedMost) = Held();
    for (var look = 0; look < 20; look++)
    {
        await page.WaitForTimeoutAsync(200);
        var (browserNow, servedNow) = Held();
        (browserMost, servedMost) = (Math.Max(browserMost, browserNow), Math.Max(servedMost, servedNow));
    }

    Say(string.Create(CultureInfo.InvariantCulture, $"{Films} films on the page of a case: all seen after {seen:0.0} s; at most {browserMost - browserBefore:0} MB more in the browser than the same page without films ({browserBefore:0} MB), and {servedMost - servedBefore:0} MB more in the workbench ({servedBefore:0} MB)."));
}

(double Browser, double Served) Held() => (Memory.MegabytesOf("chromium"), Memory.MegabytesOf(served.Data));

async Task OpenBench(IPage page)
{
    await page.GotoAsync("/what-is-left");
    await page.Locator("html[data-ready]").WaitForAsync(new() { State = WaitForSelectorState.Attached });
}

// The wait from the moment at which the browser was given the file.
async Task<double> Choose(IPage page, string side, LargeFilm film)
{
    await page.EvaluateAsync("() => { window.filmDrawn = false; delete window.firstPixels; document.addEventListener('change', () => { window.chosen = performance.now(); }, { capture: true, once: true }); }");
    await page.Locator($"#{side} [data-part=choose]").SetInputFilesAsync(new FilePayload { Name = "film.dcm", MimeType = "application/dicom", Buffer = film.File });
    return await page.OwnPixels(await page.EvaluateAsync<double>("window.chosen"));
}

static string Spread(IEnumerable<double> milliseconds)
{
    var ordered = milliseconds.Order().ToArray();
    return string.Create(CultureInfo.InvariantCulture, $"{Median(ordered):0} ms (median; {ordered[0]:0} to {ordered[^1]:0})");
}

static double Median(IEnumerable<double> values) => Quantile([.. values.Order()], 0.5);

static double Quantile(double[] ordered, double share) => ordered[(int)Math.Round(share * (ordered.Length - 1))];
