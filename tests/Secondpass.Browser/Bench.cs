using System.Text.Json;
using Microsoft.Playwright;
using Secondpass.Domain.Films;

namespace Secondpass.Browser;

/// <summary>The page "What is left" under a user's hands: real clicks and keys, and everything the browser complained about.</summary>
public sealed class Bench : IAsyncDisposable
{
    private readonly IBrowserContext profile;

    private Bench(IBrowserContext profile, IPage page)
    {
        this.profile = profile;
        Page = page;
    }

    /// <summary>The page.</summary>
    public IPage Page { get; }

    /// <summary>Errors and warnings of the browser's console, errors of scripts, requests to elsewhere.</summary>
    public List<string> Complaints { get; } = [];

    /// <summary>Opens the page, the notice accepted.</summary>
    /// <param name="workbench">The workbench.</param>
    /// <param name="chromium">The browser.</param>
    /// <param name="options">Size, theme and more; null for 1280 × 800, light.</param>
    /// <param name="path">The page.</param>
    public static async Task<Bench> Open(Workbench workbench, Chromium chromium, BrowserNewContextOptions? options = null, string path = "/what-is-left")
    {
        ArgumentNullException.ThrowIfNull(workbench);
        ArgumentNullException.ThrowIfNull(chromium);
        options ??= new BrowserNewContextOptions();
        options.BaseURL = workbench.Address.ToString();
        options.ViewportSize ??= new ViewportSize { Width = 1280, Height = 800 };
        var profile = await chromium.Profile(options);
        profile.SetDefaultTimeout(60_000);
        var page = await profile.NewPageAsync();
        var bench = new Bench(profile, page);
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
            {
                bench.Complaints.Add(message.Text);
            }
        };
        page.PageError += (_, error) => bench.Complaints.Add(error);
        page.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(workbench.Address.ToString(), StringComparison.Ordinal) && !request.Url.StartsWith("blob:", StringComparison.Ordinal))
            {
                bench.Complaints.Add("Asked elsewhere: " + request.Url);
            }
        };
        await page.AddInitScriptAsync(
            """
            const add = (what, by) => sessionStorage.setItem(what, String(Number(sessionStorage.getItem(what) ?? 0) + by));
            addEventListener('click', (event) => {
              if (event.isTrusted && event.detail > 0) add('hand-clicks', 1);
            }, true);
            addEventListener('change', ({ target }) => {
              if (target.matches('textarea, select, input:not([type=radio], [type=checkbox], [type=file], [type=range])')) {
                add('hand-fields', 1);
                add('hand-characters', target.matches('select') ? 1 : target.value.length);
              }
            }, true);
            """);
        await page.GotoAsync(path);
        var begin = page.GetByRole(AriaRole.Button, new() { Name = "I am a licensed clinician, begin" });
        if (await begin.CountAsync() > 0)
        {
            await begin.ClickAsync();
            await page.GotoAsync(path);
        }

        await bench.CountAnew();
        if (path.StartsWith("/what-is-left", StringComparison.Ordinal) && !path.Contains("kept/", StringComparison.Ordinal))
        {
            await bench.Ready();
        }

        return bench;
    }

    /// <summary>Waits until the page's script runs.</summary>
    public Task Ready() => Page.Locator("html[data-ready]").WaitForAsync(new() { State = WaitForSelectorState.Attached });

    /// <summary>Clicks since the page was opened or counting began anew, made by hand: a key on a button doesn't count.</summary>
    public async Task<int> Clicks() => (await Work()).Clicks;

    /// <summary>What the hand did since the page was opened or counting began anew, over all pages of this tab.</summary>
    public async Task<HandWork> Work()
    {
        var counted = await Page.EvaluateAsync<int[]>("['hand-clicks', 'hand-fields', 'hand-characters'].map((what) => Number(sessionStorage.getItem(what) ?? 0))");
        return new HandWork(counted[0], counted[1], counted[2]);
    }

    /// <summary>Counts what the hand does from nothing.</summary>
    public Task CountAnew() => Page.EvaluateAsync("['hand-clicks', 'hand-fields', 'hand-characters'].forEach((what) => sessionStorage.removeItem(what))");

    /// <summary>Waits, on the list of cases, until the invented clinic is written whole.</summary>
    public async Task ClinicWritten()
    {
        for (var look = 0; look < 600 && await Page.GetByText("They are being written just now").CountAsync() > 0; look++)
        {
            await Page.ReloadAsync();
        }
    }

    /// <summary>Drops files on the page, as from a folder; they are called film 1.png, film 2.png …</summary>
    public Task Drop(string target, params byte[][] files) =>
        Drop(target, [.. files.Select((bytes, index) => (string.Create(CultureInfo.InvariantCulture, $"film {index + 1}.png"), bytes))]);

    /// <summary>Drops named files on the page, as from a folder.</summary>
    public async Task Drop(string target, params (string Name, byte[] Bytes)[] files)
    {
        ArgumentNullException.ThrowIfNull(files);
        var transfer = await Page.EvaluateHandleAsync(
            """
            (files) => {
              const transfer = new DataTransfer();
              for (const [name, text] of files) {
                const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
                transfer.items.add(new File([bytes], name));
              }
              return transfer;
            }
            """,
            files.Select(file => new[] { file.Name, Convert.ToBase64String(file.Bytes) }).ToArray());
        await Page.DispatchEventAsync(target, "dragover", new { dataTransfer = transfer });
        await Page.DispatchEventAsync(target, "drop", new { dataTransfer = transfer });
    }

    /// <summary>Copies a film to the browser's clipboard as a picture, then pastes with the keys of the system.</summary>
    public async Task PasteFilm(byte[] film)
    {
        await profile.GrantPermissionsAsync(["clipboard-read", "clipboard-write"]);
        await Page.EvaluateAsync(
            """
            async (text) => {
              const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
              await navigator.clipboard.write([new ClipboardItem({ 'image/png': new Blob([bytes], { type: 'image/png' }) })]);
            }
            """,
            Convert.ToBase64String(film));
        await Page.Keyboard.PressAsync("Control+V");
    }

    /// <summary>What is drawn on a film's canvas, once it was drawn anew: a digest of its pixels, for comparing.</summary>
    public Task<string> Look(string side = "before") => Page.Locator($"#{side} canvas").EvaluateAsync<string>(
        """
        async (canvas) => {
          await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
          const copy = new OffscreenCanvas(canvas.width, canvas.height);
          const context = copy.getContext('2d', { willReadFrequently: true });
          context.drawImage(canvas, 0, 0);
          const digest = await crypto.subtle.digest('SHA-256', context.getImageData(0, 0, copy.width, copy.height).data);
          return [...new Uint8Array(digest)].join(' ');
        }
        """);

    /// <summary>Mean grey, 0 to 255, of the middle ninth of a film's canvas, once it was drawn anew.</summary>
    public Task<int> MiddleGrey(string side = "before") => Page.Locator($"#{side} canvas").EvaluateAsync<int>(
        """
        async (canvas) => {
          await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
          const [width, height] = [Math.floor(canvas.width / 3), Math.floor(canvas.height / 3)];
          const context = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
          context.drawImage(canvas, -width, -height);
          const { data } = context.getImageData(0, 0, width, height);
          let sum = 0;
          for (let i = 0; i < data.length; i += 4) sum += data[i];
          return Math.round((4 * sum) / data.length);
        }
        """);

    /// <summary>Two fingers on the film before, drawn apart or together evenly about a place.</summary>
    /// <param name="x">Column of the place on the canvas, in pixels of the screen.</param>
    /// <param name="y">Row of the place.</param>
    /// <param name="from">How far each finger is from the place at first.</param>
    /// <param name="to">How far at last.</param>
    public async Task Pinch(double x, double y, double from, double to)
    {
        const int steps = 12;
        var canvas = await Page.Locator("#before canvas").BoundingBoxAsync();
        var fingers = await profile.NewCDPSessionAsync(Page);
        await Send("touchStart", from);
        for (var step = 1; step <= steps; step++)
        {
            await Send("touchMove", from + ((to - from) * step / steps));
        }

        await fingers.SendAsync("Input.dispatchTouchEvent", new() { ["type"] = "touchEnd", ["touchPoints"] = Array.Empty<object>() });

        Task Send(string type, double apart) => fingers.SendAsync("Input.dispatchTouchEvent", new()
        {
            ["type"] = type,
            ["touchPoints"] = new[]
            {
                new { x = canvas!.X + x - apart, y = canvas.Y + y, id = 0 },
                new { x = canvas.X + x + apart, y = canvas.Y + y, id = 1 },
            },
        });
    }

    /// <summary>Drops two films and waits until they are shown.</summary>
    public async Task DropBoth(FilmFiles films)
    {
        ArgumentNullException.ThrowIfNull(films);
        await Drop("#bench", films.Before, films.After);
        await Page.Locator("#states").WaitForAsync();
    }

    /// <summary>Says that the filling is out.</summary>
    public Task SayFillingOut() => Page.GetByRole(AriaRole.Button, new() { Name = "Filling out" }).ClickAsync();

    /// <summary>Where a place of the film before lies on its canvas, in pixels of the screen.</summary>
    public async Task<(float X, float Y)> OnCanvas(FilmFiles films, PixelPoint at, string side = "before")
    {
        ArgumentNullException.ThrowIfNull(films);
        var size = await Page.Locator($"#{side} canvas").BoundingBoxAsync();
        var zoom = Math.Min(size!.Width / films.Width, size.Height / films.Height);
        return (
            (float)(((at.X + 0.5) * zoom) + ((size.Width - (films.Width * zoom)) / 2)),
            (float)(((at.Y + 0.5) * zoom) + ((size.Height - (films.Height * zoom)) / 2)));
    }

    /// <summary>Clicks a place of a film, while the whole film is seen.</summary>
    public async Task ClickFilm(FilmFiles films, PixelPoint at, string side = "before")
    {
        var (x, y) = await OnCanvas(films, at, side);
        await Page.Locator($"#{side} canvas").ClickAsync(new() { Position = new() { X = x, Y = y } });
    }

    /// <summary>Moves the crosshair of a film by the arrow keys, coarsely and then finely, while the whole film is seen.</summary>
    /// <param name="films">The films.</param>
    /// <param name="to">Where to, within half a pixel.</param>
    /// <param name="side">Which film.</param>
    /// <param name="from">Where it is; null: where it begins.</param>
    public async Task MoveCrosshair(FilmFiles films, PixelPoint to, string side = "before", PixelPoint? from = null)
    {
        ArgumentNullException.ThrowIfNull(films);
        var start = from ?? new PixelPoint(Math.Round(films.Width / 2.0), Math.Round(films.Height / 3.0));
        const double coarse = 12;
        var zoom = ((await OnCanvas(films, new PixelPoint(100, 0), side)).X - (await OnCanvas(films, new PixelPoint(0, 0), side)).X) / 100;
        await Page.Locator($"#{side} canvas").FocusAsync();
        await Press("ArrowLeft", "ArrowRight", to.X - start.X);
        await Press("ArrowUp", "ArrowDown", to.Y - start.Y);

        async Task Press(string back, string forth, double pixels)
        {
            var coarsely = (int)(Math.Abs(pixels) * zoom / coarse);
            var finely = (int)Math.Round(Math.Abs(pixels) - (coarsely * coarse / zoom));
            for (var press = 0; press < coarsely + finely; press++)
            {
                await Page.Keyboard.PressAsync((press < coarsely ? string.Empty : "Shift+") + (pixels < 0 ? back : forth));
            }
        }
    }

    /// <summary>Touches a place of the film before with one finger.</summary>
    public async Task Touch(FilmFiles films, PixelPoint at, TimeSpan stays)
    {
        var canvas = await Page.Locator("#before canvas").BoundingBoxAsync();
        var (x, y) = await OnCanvas(films, at);
        var fingers = await profile.NewCDPSessionAsync(Page);
        await fingers.SendAsync("Input.dispatchTouchEvent", new() { ["type"] = "touchStart", ["touchPoints"] = new[] { new { x = canvas!.X + x, y = canvas.Y + y } } });
        await Task.Delay(stays);
        await fingers.SendAsync("Input.dispatchTouchEvent", new() { ["type"] = "touchEnd", ["touchPoints"] = Array.Empty<object>() });
    }

    /// <summary>Traces canals with two clicks each, and waits until all are traced.</summary>
    public async Task TraceCanals(FilmFiles films)
    {
        ArgumentNullException.ThrowIfNull(films);
        foreach (var (orifice, end) in films.Canals)
        {
            await ClickFilm(films, orifice);
            await ClickFilm(films, end);
        }

        await AllTraced(films.Canals.Count);
    }

    /// <summary>Waits until so many canals stand in the list with what was measured.</summary>
    public async Task AllTraced(int count)
    {
        await Assertions.Expect(Page.Locator("#canals > li")).ToHaveCountAsync(count);
        await Assertions.Expect(Page.Locator("#canals [data-part=words]").Filter(new() { HasText = "tracing" })).ToHaveCountAsync(0);
    }

    /// <summary>Asks what is left and waits for the answer.</summary>
    public async Task Compare()
    {
        await Page.GetByRole(AriaRole.Button, new() { Name = "Show what is left" }).ClickAsync();
        await Page.Locator("#result, #refusal").Filter(new() { Visible = true }).First.WaitForAsync();
    }

    /// <summary>The identity of the comparison that is shown.</summary>
    public async Task<string> ComparisonId() => (await Page.Locator("#sheet").GetAttributeAsync("href"))!.Split('/')[3];

    /// <summary>JSON from the workbench.</summary>
    public async Task<JsonElement> Json(string path)
    {
        var answer = await Page.APIRequest.GetAsync(path);
        return JsonSerializer.Deserialize<JsonElement>(await answer.TextAsync());
    }

    /// <summary>Keeps a picture of the page for looking at.</summary>
    public Task Picture(string name) => Page.ScreenshotAsync(new() { Path = Workbench.Artifact("screenshots", name + ".png") });

    /// <inheritdoc/>
    public async ValueTask DisposeAsync() => await profile.DisposeAsync();
}
