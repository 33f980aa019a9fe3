using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace Secondpass.Browser;

/// <summary>What can be told of a page's look without an eye.</summary>
internal static class Looks
{
    /// <summary>Whether this is a long run.</summary>
    public static bool IsLong { get; } = Environment.GetEnvironmentVariable("SECONDPASS_LONG") is not null;

    private static readonly string Axe = $"() => {{ {new BundledAxeScriptProvider().GetScript()} }}";

    /// <summary>Breaches of WCAG 2.2 A and AA by axe-core, the rule set of Deque Systems (MPL 2.0), and targets, widths and texts that don't fit.</summary>
    /// <param name="page">The page.</param>
    /// <param name="state">What it shows, for the messages.</param>
    public static async Task<IReadOnlyList<string>> Faults(this IPage page, string state)
    {
        // It is put into the page once, and only what it found fault with comes back: Deque's own wrapper sends it anew for each look, and
        // everything that passed to a second window and back. Nor does it look into a frame that it isn't put into: there are none.
        Assert.Single(page.Frames);
        if (!await page.EvaluateAsync<bool>("() => 'axe' in window"))
        {
            await page.EvaluateAsync(Axe);
        }

        var breaches = await page.EvaluateAsync<string[]>(
            """
            async (state) => {
              const { violations } = await axe.run({
                runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
                resultTypes: ['violations'],
              });
              return violations.map(({ id, help, nodes }) => `${state}: ${id}: ${help} ${nodes.map((node) => node.html).join(' | ')}`);
            }
            """,
            state);
        return [.. breaches, .. await page.Misfits(state)];
    }

    /// <summary>Targets too small for a glove, texts cut off, and what sticks out of the window sideways.</summary>
    /// <param name="page">The page.</param>
    /// <param name="state">What it shows, for the messages.</param>
    public static Task<string[]> Misfits(this IPage page, string state) => page.EvaluateAsync<string[]>(
        """
        (state) => {
          const seen = (selector) => [...document.querySelectorAll(selector)].filter((one) => one.checkVisibility() && !one.matches('.unseen'));
          const told = (what, one) => `${state}: ${what}: ${one.outerHTML.slice(0, 120)}`;
          const words = 'button, p, th, td, dt, dd, li, h1, h2, h3, span, strong, a, legend, label';
          return [
            ...seen('button, select, textarea, input:not(.unseen, [type=hidden]), label.button, nav a, a.button, summary')
              .map((one) => [one, (one.matches('input[type=radio], input[type=checkbox], input[type=range]') ? one.closest('label') ?? one : one).getBoundingClientRect()])
              .filter(([, box]) => box.height > 0 && (box.height < 43.5 || box.width < 43.5))
              .map(([one, box]) => told(`${box.width} x ${box.height}`, one)),
            ...seen('textarea').filter((one) => one.scrollHeight > one.clientHeight + 1).map((one) => told('its text is cut off', one)),
            ...seen('main input[type=text], main select')
              .filter((one) => one.scrollWidth > one.clientWidth + 1).map((one) => told('what is entered is cut off', one)),
            ...seen('main *:not(.unseen *, svg, svg *)')
              .filter((one) => one.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5).map((one) => told('sticks out', one)),
            ...seen(words.split(', ').map((word) => `main ${word}:not(.unseen *)`).join())
              .filter((one) => one.clientWidth > 0 && one.scrollWidth > one.clientWidth + 1).map((one) => told('its words do not fit', one)),
            ...(document.documentElement.scrollWidth > innerWidth ? [`${state}: wider than the window`] : []),
          ];
        }
        """,
        state);

    /// <summary>Keeps pictures of the page in both sizes and themes, and looks for faults in each.</summary>
    /// <param name="page">The page; left at 1280 × 800, light.</param>
    /// <param name="state">What it shows, for the names of the pictures.</param>
    public static async Task LookAtEverySize(this IPage page, string state)
    {
        foreach (var (width, height) in new[] { (820, 1180), (1280, 800) })
        {
            foreach (var theme in new[] { ColorScheme.Dark, ColorScheme.Light })
            {
                await page.SetViewportSizeAsync(width, height);
                await page.EmulateMediaAsync(new() { ColorScheme = theme });
                await page.ScreenshotAsync(new() { Path = Workbench.Artifact("screenshots", string.Create(CultureInfo.InvariantCulture, $"{width}-{theme}-{state}.png")), FullPage = true });
                Assert.Empty(await page.Faults(string.Create(CultureInfo.InvariantCulture, $"{state} at {width}, {theme}")));
            }
        }
    }
}
