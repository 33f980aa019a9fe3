using System.Buffers.Binary;
using System.Diagnostics;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

/// <summary>Makes the pictures of README.md anew, in artifacts/pictures; docs/pictures/README.md says how they get into the repository.</summary>
public sealed class PicturesOfTheReadmeTests(Workbench workbench, Chromium chromium)
{
    private const int LargestBytes = 400_000;

    private static readonly string[] Names = ["workbench.png", "sheet.png", "strip.png"];

    [Fact]
    public async Task The_pictures_are_made_from_an_invented_example()
    {
        await using (var bench = await Result(new BrowserNewContextOptions { ColorScheme = ColorScheme.Light }, "upper-molar-missed-canal"))
        {
            await bench.Page.ScreenshotAsync(new() { Path = Made("workbench.png") });
            await Repack(Made("workbench.png"));
            await bench.Page.Locator("#label").FillAsync("Invented example, simulated films");
            await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Keep", Exact = true }).ClickAsync();
            await bench.Page.Locator("#kept a").WaitForAsync();
            var sheet = await bench.Page.APIRequest.GetAsync((await bench.Page.Locator("#sheet").GetAttributeAsync("href"))!);
            await File.WriteAllBytesAsync(Made("sheet.pdf"), await sheet.BodyAsync(), TestContext.Current.CancellationToken);
        }

        await Run("pdftoppm", "-r", "110", "-png", "-singlefile", Made("sheet.pdf"), Made("sheet.png")[..^4]);

        await using (var bench = await Result(new BrowserNewContextOptions { ColorScheme = ColorScheme.Light, DeviceScaleFactor = 2, ViewportSize = new ViewportSize { Width = 820, Height = 1180 } }, "lower-premolar-beyond-the-end"))
        {
            await bench.Page.Locator("#strips svg").First.ScreenshotAsync(new() { Path = Made("strip.png") });
        }

        Assert.Equal((1280, 800), Size(Made("workbench.png")));
        Assert.All(Names, name => Assert.InRange(new FileInfo(Made(name)).Length, 5_000, LargestBytes));
    }

    [Fact]
    public void The_readme_shows_each_picture_and_none_is_large()
    {
        var readme = File.ReadAllText(Path.Combine(Workbench.Root, "README.md"));
        foreach (var name in Names)
        {
            Assert.Contains($"](docs/pictures/{name})", readme, StringComparison.Ordinal);
            Assert.InRange(new FileInfo(Path.Combine(Workbench.Root, "docs", "pictures", name)).Length, 5_000, LargestBytes);
        }

        Assert.Equal((1280, 800), Size(Path.Combine(Workbench.Root, "docs", "pictures", "workbench.png")));
    }

    /// <summary>The same pixels in a smaller file, by Debian's python3-opencv: a browser packs for speed.</summary>
    private static Task Repack(string path) => Run(
        "/usr/bin/python3", "-c", "import cv2, sys; cv2.imwrite(sys.argv[1], cv2.imread(sys.argv[1]), [cv2.IMWRITE_PNG_COMPRESSION, 9, cv2.IMWRITE_PNG_STRATEGY, 0])", path);

    private static async Task Run(string program, params string[] words)
    {
        using var process = Process.Start(program, words);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, process.ExitCode);
    }

    private static string Made(string name) => Workbench.Artifact("pictures", name);

    /// <summary>Width and height of a PNG file, from its first chunk (ISO/IEC 15948, 11.2.2).</summary>
    private static (int Width, int Height) Size(string path)
    {
        var head = File.ReadAllBytes(path).AsSpan(16, 8);
        return (BinaryPrimitives.ReadInt32BigEndian(head), BinaryPrimitives.ReadInt32BigEndian(head[4..]));
    }

    private async Task<Bench> Result(BrowserNewContextOptions options, string example)
    {
        var bench = await Bench.Open(workbench, chromium, options);
        await bench.Page.Locator($"[data-example={example}]").ClickAsync();
        await bench.Page.Locator("#canals > li").First.WaitForAsync();
        await bench.AllTraced(await bench.Page.Locator("#canals > li").CountAsync());
        await bench.Compare();
        await Expect(bench.Page.Locator("#refusal")).ToBeHiddenAsync();
        await bench.Page.Mouse.MoveAsync(1, 1);
        await bench.Look("after");
        return bench;
    }
}
