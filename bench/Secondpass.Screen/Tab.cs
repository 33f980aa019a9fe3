using Microsoft.Playwright;

namespace Secondpass.Screen;

/// <summary>One tab of the browser that notes when a film was first drawn and how its frames follow each other.</summary>
internal static class Tab
{
    private const string Notes =
        """
        const draw = CanvasRenderingContext2D.prototype.drawImage;
        CanvasRenderingContext2D.prototype.drawImage = function (picture, ...rest) {
          draw.call(this, picture, ...rest);
          if (picture.width * picture.height > 1100000 && !window.filmDrawn) {
            window.filmDrawn = true;
            // After the frame that shows it.
            requestAnimationFrame(() => setTimeout(() => { window.firstPixels = performance.now(); }));
          }
        };
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries()) {
            if (entry.url.endsWith('/picture')) {
              window.firstLook = entry.startTime;
            }
          }
        }).observe({ type: 'largest-contentful-paint', buffered: true });
        window.frames_ = [];
        const note = (now) => { window.frames_.push(now); requestAnimationFrame(note); };
        requestAnimationFrame(note);
        """;

    /// <summary>Opens one.</summary>
    public static async Task<IPage> Open(IBrowserContext profile)
    {
        var page = await profile.NewPageAsync();
        await page.AddInitScriptAsync(Notes);
        return page;
    }

    /// <summary>
    /// Milliseconds from asking for the page until its film was seen: its picture, as the browser notes the first frame of the page's largest, or,
    /// where that came no sooner, what was drawn from its own pixels.
    /// </summary>
    public static async Task<double> FirstLook(this IPage page)
    {
        var own = await page.OwnPixels();
        return Math.Min(own, await page.EvaluateAsync<double?>("window.firstLook") ?? own);
    }

    /// <summary>Milliseconds from asking for the page, or from a moment of its clock, until a large film was drawn from its own pixels.</summary>
    public static async Task<double> OwnPixels(this IPage page, double from = 0)
    {
        await page.WaitForFunctionAsync("() => window.firstPixels !== undefined");
        return await page.EvaluateAsync<double>("window.firstPixels") - from;
    }

    /// <summary>The page's clock, in milliseconds.</summary>
    public static Task<double> Clock(this IPage page) => page.EvaluateAsync<double>("performance.now()");

    /// <summary>Milliseconds that the browser's own decoder takes for the picture as PNG of 8 bits, and to draw it.</summary>
    public static Task<double> OwnDecoder(this IPage page) => page.EvaluateAsync<double>(
        """
        async () => {
          const shown = document.querySelector('canvas');
          const canvas = new OffscreenCanvas(1500, 2000);
          canvas.getContext('2d').drawImage(shown, 0, 0, canvas.width, canvas.height);
          const blob = await canvas.convertToBlob({ type: 'image/png' });
          let fastest = Infinity;
          for (let round = 0; round < 5; round++) {
            const start = performance.now();
            const bitmap = await createImageBitmap(blob);
            const target = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d');
            target.drawImage(bitmap, 0, 0);
            target.getImageData(0, 0, 1, 1);
            fastest = Math.min(fastest, performance.now() - start);
          }
          return fastest;
        }
        """);

    /// <summary>Milliseconds between frames since a moment of the page's clock, in order of size.</summary>
    public static async Task<double[]> FramesSince(this IPage page, double from)
    {
        var moments = (await page.EvaluateAsync<double[]>("window.frames_")).Where(moment => moment >= from).ToArray();
        return [.. moments.Zip(moments.Skip(1), (one, next) => next - one).Order()];
    }
}
