using Microsoft.Playwright;
using Secondpass.Domain.Films;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

/// <summary>Films come in and are looked at: nothing of it needs a mark.</summary>
public sealed class LookingTests(Workbench workbench, Chromium chromium)
{
    [Fact]
    public async Task Films_pasted_one_after_the_other_are_the_film_before_and_the_film_after()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;

        await bench.PasteFilm(films.Before);
        await Expect(bench.Page.Locator("#step")).ToHaveTextAsync("Now the film after.");
        await bench.PasteFilm(films.After);

        await bench.Page.Locator("#states").WaitForAsync();
        await Expect(bench.Page.Locator("#before canvas")).ToHaveAttributeAsync("aria-label", $"Film before, {films.Width} by {films.Height} pixels");
        await Expect(bench.Page.GetByRole(AriaRole.Alert)).ToHaveCountAsync(0);
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task Swapped_films_change_places_and_their_marks_go()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        await bench.DropBoth(films);
        await bench.SayFillingOut();
        var (before, after) = (await bench.Look("before"), await bench.Look("after"));
        Assert.NotEqual(before, after);
        await bench.TraceCanals(films);

        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Swap films" }).ClickAsync();

        await Expect(bench.Page.Locator("#states")).ToBeVisibleAsync();
        await Expect(bench.Page.Locator("#canals > li")).ToHaveCountAsync(0);
        await bench.Page.Mouse.MoveAsync(1, 1);
        Assert.Equal(after, await bench.Look("before"));
        Assert.Equal(before, await bench.Look("after"));
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Swap films" }).ClickAsync();
        await bench.Page.Mouse.MoveAsync(1, 1);
        Assert.Equal(before, await bench.Look("before"));
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task Two_fingers_zoom_about_the_place_between_them_and_mark_nothing()
    {
        await using var bench = await Bench.Open(workbench, chromium, new BrowserNewContextOptions
        {
            HasTouch = true,
            ViewportSize = new ViewportSize { Width = 820, Height = 1180 },
        });
        var films = FilmFiles.ThreeCanals;
        await bench.DropBoth(films);
        await bench.SayFillingOut();
        var (orifice, end) = films.Canals[2];
        var whole = await bench.Look();
        var (x, y) = await bench.OnCanvas(films, orifice);

        await bench.Pinch(x, y, 20, 40);

        Assert.NotEqual(whole, await bench.Look());
        await Expect(bench.Page.Locator("#canals > li")).ToHaveCountAsync(0);

        // The place between the fingers stayed, and everything lies twice as far from it as on the whole film.
        var (wholeX, wholeY) = await bench.OnCanvas(films, end);
        await bench.Page.Locator("#before canvas").ClickAsync(new() { Position = new() { X = x, Y = y } });
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Whole" }).First.ClickAsync();
        await bench.Page.Locator("#before canvas").ClickAsync(new() { Position = new() { X = wholeX, Y = wholeY } });
        await bench.AllTraced(1);
        await bench.Compare();
        var marks = await bench.Json($"/api/comparisons/{await bench.ComparisonId()}/case.json");
        var first = marks.GetProperty("canals")[0].GetProperty("trace_px")[0];
        Assert.Equal(0, new PixelPoint(first[0].GetDouble(), first[1].GetDouble()).DistanceTo(orifice), 4.0);
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task Keys_make_the_film_brighter_darker_and_of_more_or_less_contrast()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.DropBoth(FilmFiles.ThreeCanals);
        await bench.Page.Locator("#before canvas").FocusAsync();
        await bench.Page.Locator("#before").GetByRole(AriaRole.Button, new() { Name = "Adjust" }).ClickAsync();
        var (brightness, contrast) = (bench.Page.GetByLabel("Brightness").First, bench.Page.GetByLabel("Contrast").First);
        await bench.Page.Locator("#before canvas").FocusAsync();
        var asCame = await bench.Look();

        await bench.Page.Keyboard.PressAsync("b");
        await Expect(brightness).ToHaveValueAsync("10");
        var brighter = await bench.Look();
        Assert.NotEqual(asCame, brighter);
        await bench.Page.Keyboard.PressAsync("Shift+B");
        await bench.Page.Keyboard.PressAsync("Shift+B");
        await Expect(brightness).ToHaveValueAsync("-10");
        await bench.Page.Keyboard.PressAsync("b");
        await bench.Page.Keyboard.PressAsync("c");
        await Expect(contrast).ToHaveValueAsync("10");
        Assert.NotEqual(asCame, await bench.Look());
        await bench.Page.Keyboard.PressAsync("Shift+C");

        await Expect(contrast).ToHaveValueAsync("0");
        Assert.Equal(asCame, await bench.Look());
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task Local_contrast_and_sharpness_change_the_look_by_key_and_slider_and_go_back_to_the_film_as_it_came()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.DropBoth(FilmFiles.ThreeCanals);
        var before = bench.Page.Locator("#before");
        await before.GetByRole(AriaRole.Button, new() { Name = "Adjust" }).ClickAsync();
        var (contrast, sharpness) = (before.GetByLabel("Local contrast"), before.GetByLabel("Sharpness"));
        var badge = before.Locator("[data-part=badge]");
        await before.Locator("canvas").FocusAsync();
        var asCame = await bench.Look();

        await bench.Page.Keyboard.PressAsync("l");
        await Expect(contrast).ToHaveValueAsync("10");
        var withContrast = await bench.Look();
        Assert.NotEqual(asCame, withContrast);
        await Expect(badge).ToBeHiddenAsync();

        await sharpness.FillAsync("60");
        await Expect(badge).ToHaveTextAsync("Sharpened: a dark line along a filling may not be there");
        Assert.NotEqual(withContrast, await bench.Look());
        await bench.Page.Keyboard.DownAsync("o");
        await Expect(badge).ToHaveTextAsync("Original");
        await bench.Page.Keyboard.UpAsync("o");
        await bench.Picture("sharpened-1280-light");

        await before.GetByRole(AriaRole.Button, new() { Name = "Reset" }).ClickAsync();
        await Expect(sharpness).ToHaveValueAsync("0");
        await Expect(badge).ToBeHiddenAsync();
        await before.Locator("canvas").FocusAsync();
        Assert.Equal(asCame, await bench.Look());
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task Sharpness_holds_a_pixel_against_its_Gaussian_surroundings_and_leaves_an_even_film_as_it_is()
    {
        // The definition of unsharp masking (Gonzalez and Woods, Digital Image Processing, from memory): value + k (value − its Gaussian mean); k is 0.03 a step.
        const int size = 61;
        const double deviation = 1.41421;
        await using var bench = await Bench.Open(workbench, chromium);
        static double Film(int x, int y) => x == 30 && y == 30 ? 20_000 : x > 40 ? 20_000 : 10_000;
        var greys = Enumerable.Range(0, size * size).Select(i => Film(i % size, i / size)).ToArray();

        var aided = await bench.Page.EvaluateAsync<int[]>(
            """
            async ([greys, size]) => {
              const { LookingAids } = await import('/modules/looking-aids.js');
              const film = { width: size, height: size, greatest: 65535, pixels: Uint16Array.from(greys) };
              return [...new LookingAids(film).apply(0, 50).pixels];
            }
            """,
            new object[] { greys, size });

        Assert.Equal(10_000, aided[0]);
        foreach (var (x, y) in new[] { (30, 30), (31, 30), (30, 32), (33, 31), (38, 10), (40, 10), (41, 10), (43, 50) })
        {
            var expected = Film(x, y) + (1.5 * (Film(x, y) - Around(x, y)));
            Assert.Equal(expected, aided[(y * size) + x], 0.02 * 10_000 * 1.5);
        }

        static double Around(int x, int y)
        {
            var (sum, weights) = (0.0, 0.0);
            for (var i = 0; i < size * size; i++)
            {
                var weight = Math.Exp(-(Math.Pow((i % size) - x, 2) + Math.Pow((i / size) - y, 2)) / (2 * deviation * deviation));
                (sum, weights) = (sum + (weight * Film(i % size, i / size)), weights + weight);
            }

            return sum / weights;
        }
    }

    [Fact]
    public async Task Invert_turns_dark_and_light_round_and_O_shows_the_original_while_it_is_held()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        await bench.DropBoth(FilmFiles.ThreeCanals);
        await bench.SayFillingOut();
        var canvas = bench.Page.Locator("#before canvas");
        var badge = bench.Page.Locator("#before [data-part=badge]");
        var original = bench.Page.Locator("#before").GetByRole(AriaRole.Button, new() { Name = "Original" });
        var (grey, inverted) = (await bench.MiddleGrey(), 0);

        await canvas.FocusAsync();
        await bench.Page.Keyboard.PressAsync("i");
        inverted = await bench.MiddleGrey();
        Assert.InRange(inverted, 255 - grey - 2, 255 - grey + 2);

        await bench.Page.Keyboard.DownAsync("o");
        await Expect(badge).ToHaveTextAsync("Original");
        await Expect(original).ToHaveAttributeAsync("aria-pressed", "true");
        Assert.InRange(await bench.MiddleGrey(), grey - 2, grey + 2);
        await bench.Page.Keyboard.UpAsync("o");
        await Expect(badge).ToBeHiddenAsync();
        Assert.Equal(inverted, await bench.MiddleGrey());

        await original.ClickAsync();
        await Expect(badge).ToHaveTextAsync("Original");
        Assert.InRange(await bench.MiddleGrey(), grey - 2, grey + 2);
        await original.ClickAsync();
        await Expect(badge).ToBeHiddenAsync();
        Assert.Equal(inverted, await bench.MiddleGrey());
        Assert.Empty(bench.Complaints);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_bad_file_beside_a_good_film_is_named_with_its_reason_and_the_good_film_is_kept(bool isBadFirst)
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        (string, byte[]) bad = ("letter.docx", "not a film"u8.ToArray());
        (string, byte[]) good = ("16 before.png", isBadFirst ? films.After : films.Before);

        await bench.Drop("#bench", isBadFirst ? [bad, good] : [good, bad]);

        var alert = bench.Page.GetByRole(AriaRole.Alert);
        await Expect(alert).ToContainTextAsync("Not taken in");
        await Expect(bench.Page.Locator("#refusal-reason")).ToContainTextAsync("letter.docx: ");
        await Expect(bench.Page.Locator("#refusal-reason")).Not.ToContainTextAsync("16 before.png");
        Assert.NotEmpty(await bench.Page.Locator("#refusal-remedy").InnerTextAsync());
        await Expect(bench.Page.Locator("#step")).ToHaveTextAsync(isBadFirst ? "Now the film before." : "Now the film after.");
        await Expect(bench.Page.Locator(isBadFirst ? "#after canvas" : "#before canvas"))
            .ToHaveAttributeAsync("aria-label", $"Film {(isBadFirst ? "after" : "before")}, {films.Width} by {films.Height} pixels");

        await bench.Drop("#bench", isBadFirst ? films.Before : films.After);
        await bench.Page.Locator("#states").WaitForAsync();
        await Expect(alert).ToHaveCountAsync(0);
        Assert.DoesNotContain(bench.Complaints, complaint => !complaint.Contains("422", StringComparison.Ordinal));
    }
}
