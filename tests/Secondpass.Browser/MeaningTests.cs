using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

/// <summary>What the figures of what is left mean: another pass, published figures, new material, a dressing.</summary>
public sealed class MeaningTests(Workbench workbench, Chromium chromium)
{
    [Fact]
    public async Task Each_canal_has_one_next_step_and_new_material_is_told_with_its_size_and_place()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.WithMovedMaterial;
        await bench.DropBoth(films);
        await bench.SayFillingOut();
        await bench.Page.Locator("#dressing").GetByRole(AriaRole.Button, new() { Name = "No" }).ClickAsync();
        await Expect(bench.Page.Locator("#dressing")).ToBeHiddenAsync();
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Measure something of known length" }).ClickAsync();
        await bench.ClickFilm(films, films.Canals[0].Orifice);
        await bench.ClickFilm(films, films.Canals[0].End);
        await bench.Page.Locator("#known-length").FillAsync(string.Create(CultureInfo.InvariantCulture, $"{films.Canals[0].Orifice.DistanceTo(films.Canals[0].End) * 0.03:0.0}"));
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Set", Exact = true }).ClickAsync();
        await bench.TraceCanals(films);
        await bench.Compare();

        await Expect(bench.Page.Locator("#headlines .pass-words")).ToHaveCountAsync(3);
        foreach (var words in await bench.Page.Locator("#headlines .pass-words").AllInnerTextsAsync())
        {
            Assert.Matches(@"(?i)reache[sd]|blind", words);
        }

        Assert.Contains(" short of the end", string.Join(' ', await bench.Page.Locator("#headlines .pass-words").AllInnerTextsAsync()).Replace('\u00a0', ' '), StringComparison.Ordinal);

        await Expect(bench.Page.Locator("#moved li")).ToHaveCountAsync(1);
        await Expect(bench.Page.Locator("#moved li")).ToContainTextAsync("new material beyond the end of the canal");
        await bench.Picture("meaning-result");
        foreach (var summary in await bench.Page.Locator("#result summary").AllAsync())
        {
            await summary.ClickAsync();
        }

        await Expect(bench.Page.GetByText("After an adaptive-motion rotary file: 31 ± 10 % (mean ± standard deviation).")).ToBeVisibleAsync();
        await Expect(bench.Page.Locator("[data-own='1']")).ToContainTextAsync("Here: ");
        await Expect(bench.Page.Locator(".panel > .caution")).ToHaveTextAsync("Supports a licensed clinician's judgement and never replaces it. None visible is not none left.");
        await bench.Page.LookAtEverySize("meaning-opened");
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task A_kept_result_shows_the_next_steps_as_they_were_and_what_is_published()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.WithMovedMaterial;
        await bench.DropBoth(films);
        await bench.SayFillingOut();
        await bench.TraceCanals(films);
        await bench.Compare();
        var words = await bench.Page.Locator("#headlines .pass-words").AllInnerTextsAsync();
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "Keep", Exact = true }).ClickAsync();
        await bench.Page.GetByRole(AriaRole.Link, new() { Name = "See it" }).ClickAsync();

        await Expect(bench.Page.GetByRole(AriaRole.Heading, new() { Name = "Is another pass worth it?" })).ToBeVisibleAsync();
        var kept = await bench.Page.Locator(".pass-words").AllInnerTextsAsync();
        foreach (var (before, after) in words.Zip(kept))
        {
            Assert.EndsWith(before.Replace('\u00a0', ' '), after, StringComparison.Ordinal);
        }

        await Expect(bench.Page.GetByText("new material beyond the end of the canal")).ToBeVisibleAsync();
        await bench.Page.GetByText("What is published of each third").ClickAsync();
        await bench.Page.LookAtEverySize("meaning-kept");
        Assert.Empty(bench.Complaints);
    }

    [Fact]
    public async Task A_dressing_in_the_canal_gives_no_figure_and_advises_no_other_pass()
    {
        await using var bench = await Bench.Open(workbench, chromium);
        var films = FilmFiles.ThreeCanals;
        await bench.DropBoth(films);
        await Expect(bench.Page.GetByText("A radiopaque dressing (calcium hydroxide with a radiopacifier), a temporary paste or a core looks like filling.")).ToBeVisibleAsync();
        await bench.SayFillingOut();
        await Expect(bench.Page.GetByText("Is a dressing or temporary paste in the canal on this film?")).ToBeVisibleAsync();
        await bench.Page.LookAtEverySize("meaning-asked");
        await bench.Page.Locator("#dressing").GetByRole(AriaRole.Button, new() { Name = "Yes" }).ClickAsync();
        await bench.TraceCanals(films);
        await bench.Compare();

        await Expect(bench.Page.Locator("#headlines .pass-words")).ToHaveTextAsync(
            Enumerable.Repeat("What is seen may be dressing or paste: this film is no reason for another pass.", 3));
        Assert.DoesNotContain("%", await bench.Page.Locator("#headlines").InnerTextAsync(), StringComparison.Ordinal);
        await bench.Page.LookAtEverySize("meaning-dressing");
    }
}
