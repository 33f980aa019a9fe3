using System.Diagnostics;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Secondpass.Domain.Anatomy;
using Secondpass.Outside.Pdf;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

/// <summary>One patient from the referral to the letter, as a clinic does it, with films as they come from a sensor.</summary>
public sealed partial class FromReferralToLetterTests(Chromium chromium, ITestOutputHelper output)
{
    // The first moment that decides whether it is used on the first day: a consult takes less than a minute.
    private const double ConsultSeconds = 60;

    // Two clicks for each of three canals, one to the film and one back to the table, and two to spare for a mark set anew.
    private const int ConsultClicks = 10;

    // Finish note and letter, one page each: a link there, the completion, a button each, and two to spare.
    private const int LetterClicks = 6;

    // What nobody noted before: last file, cone and method of three canals, two irrigants with their figures, isolation, closure and restoration,
    // and the answer to the colleague's question. More would mean that something known is asked again.
    private const int LetterFields = 24;

    private const string Cusp = "mesiobuccal cusp";
    private static readonly string[] Canals = ["MB1", "DB", "P"];

    // Minutes from the moment that the patient was seated, mark by mark.
    private static readonly (string Mark, string? Canal, int Minute)[] Visit =
    [
        ("Patient seated", null, 0), ("Access begins", null, 5), ("First touch of filling", "MB1", 15), ("Hands off", null, 17), ("Hands on", null, 21),
        ("Length reached", "MB1", 25), ("Removal complete", "MB1", 30), ("First touch of filling", "DB", 30), ("Length reached", "DB", 33),
        ("Removal complete", "DB", 36), ("First touch of filling", "P", 36), ("Length reached", "P", 38), ("Removal complete", "P", 40),
        ("Shaping ended", null, 52), ("Patient leaves", null, 60),
    ];

    // As the definitions of the phases give it for those marks: hands-on, in brackets by the clock; four minutes of removal were hands off.
    private static readonly string[] Phases = ["10 (10)", "19 (23)", "21 (25)", "12 (12)", "60"];

    // The same canal by canal.
    private static readonly (string Canal, string Removal)[] RemovalOfCanals = [("MB1", "11 (15)"), ("DB", "6 (6)"), ("P", "4 (4)")];

    [Fact]
    public async Task From_the_referral_to_the_letter_with_every_figure_in_the_letter_as_it_was_shown_and_entered()
    {
        var films = FilmFiles.Demo("upper-molar-missed-canal");

        // The clinic's clock stands about midday, so that the visit lies within one day.
        var east = 12 - DateTime.UtcNow.Hour;
        await using var workbench = new Workbench { TimeZone = string.Create(CultureInfo.InvariantCulture, $"Etc/GMT{(east > 0 ? "-" : "+")}{Math.Abs(east)}") };
        await workbench.InitializeAsync();
        await using var bench = await Bench.Open(workbench, chromium, path: "/cases");
        var page = bench.Page;
        var seen = new List<string>();
        await bench.ClinicWritten();

        // Referral.
        await page.GotoAsync("/cases/new");
        await page.GetByLabel("Sent by").FillAsync("Dr Invented");
        await page.GetByLabel("Practice and address").FillAsync("Practice at the Invented Mill\n4 Nowhere Lane");
        await page.GetByLabel("What is asked").FillAsync("Can the tooth be kept?");
        var address = await page.OpenCase("W-100", "16");

        // Film, and the consult.
        await Step("Canals");
        await page.GetByLabel("Films of this tooth").SetInputFilesAsync(File("before.png", films.Before));
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the canals" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Measure on it" }).WaitForAsync();
        await bench.CountAnew();
        var began = Stopwatch.GetTimestamp();
        await page.GetByRole(AriaRole.Link, new() { Name = "Measure on it" }).ClickAsync();
        await bench.Ready();
        foreach (var (orifice, end) in films.Canals)
        {
            await bench.ClickFilm(films, orifice, "film");
            await bench.ClickFilm(films, end, "film");
        }

        await page.GetByLabel("Size of one pixel").FillAsync("0.02903");
        await page.GetByLabel("Size of one pixel").BlurAsync();
        await Expect(page.Locator("#measured li").Filter(new() { HasText = ") long" })).ToHaveCountAsync(films.Canals.Count);
        await page.GetByRole(AriaRole.Button, new() { Name = "Take into the table" }).ClickAsync();
        var table = page.Locator(".roots");
        await Expect(table).ToContainTextAsync("of the canal end");
        await Expect(table).ToContainTextAsync("MB2");
        var consult = await Measured("consult", began);
        foreach (var canal in Canals)
        {
            await Expect(table).ToContainTextAsync(new Regex($@"\b{canal} (filled|short|beyond)"));
        }

        await Expect(table).ToContainTextAsync(new Regex(@"second canal \(MB2\) in [\d.]+ %"));
        seen.Add(await table.InnerTextAsync());
        await Picture("canals");

        // A length as read, and the plan.
        await page.GetByRole(AriaRole.Link, new() { Name = "Lengths as read" }).ClickAsync();
        await page.GetByLabel("Canal", new() { Exact = true }).SelectOptionAsync("MB1");
        await page.GetByLabel("Length mm").FillAsync("19,5");
        await page.GetByLabel("From the reference point").FillAsync(Cusp);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the length" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Row, new() { Name = "MB1" })).ToContainTextAsync("19.5 mm");
        await Step("Plan");
        await page.Locator("form.choose summary").ClickAsync();
        foreach (var canal in Canals)
        {
            await page.GetByRole(AriaRole.Group, new() { Name = canal, Exact = true }).GetByLabel("Final size").FillAsync("35/.04");
        }

        await page.GetByRole(AriaRole.Button, new() { Name = "Use as the plan" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "The plan in use" })).ToBeVisibleAsync();
        await Picture("plan");

        // Visit: marks, depths, an event.
        await Step("Visit");
        await page.PressMark("Patient seated");
        await page.PressMark("Access begins");
        foreach (var (canal, length) in Canals.Select((canal, i) => (canal, 18.5 + i)))
        {
            await page.PressMark("First touch of filling", canal);
            if (canal == "MB1")
            {
                await Hands("Hands off");
                await Hands("Hands on again");
            }

            await page.GetByLabel("Depth as read").FillAsync(length.ToString("0.0", CultureInfo.InvariantCulture).Replace('.', ','));
            await page.Locator("#depth-from").FillAsync(Cusp);
            await page.Locator("#to").SelectOptionAsync(nameof(LengthEnd.WorkingLength));
            await page.Settled();
            await page.GetByRole(AriaRole.Button, new() { Name = "Step done" }).ClickAsync();
            await Expect(page.Locator(".record")).ToContainTextAsync(string.Create(CultureInfo.InvariantCulture, $"{length:0.0} mm from the {Cusp}, to the working length"));
            await page.PressMark("Length reached", canal);
            await page.PressMark("Removal complete", canal);
            if (canal != Canals[^1])
            {
                await page.Locator("a.step").ClickAsync();
            }
        }

        await page.GetByRole(AriaRole.Link, new() { Name = "File stops short" }).ClickAsync();
        await page.GetByLabel("Level").FillAsync("11,5");
        await page.Locator("#level-from").FillAsync(Cusp);
        await page.GetByLabel("Who was told").FillAsync("the patient");
        await page.Settled();
        await page.GetByRole(AriaRole.Button, new() { Name = "Note it", Exact = true }).ClickAsync();
        await Expect(page.Locator(".record")).ToContainTextAsync($"at 11.5 mm from the {Cusp}");
        await page.PressMark("Shaping ended");

        // Film after, and what is left.
        await page.GotoAsync(address + "/films");
        await page.GetByLabel("Files").SetInputFilesAsync(File("after.png", films.After));
        await page.GetByLabel("Taken").SelectOptionAsync("During");
        await page.GetByRole(AriaRole.Button, new() { Name = "Attach the films" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Film during removal" })).ToBeVisibleAsync();
        await Step("What is left");
        await bench.Ready();
        await bench.AllTraced(films.Canals.Count);
        await bench.SayFillingOut();
        await bench.Compare();
        await Expect(page.Locator("#refusal")).ToBeHiddenAsync();
        var headlines = await page.Locator("#headlines .headline").AllInnerTextsAsync();
        Assert.Equal(films.Canals.Count, headlines.Count);
        seen.Add(await page.Locator("#result").InnerTextAsync());
        await page.Locator("#label").FillAsync("W-100, first visit");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep", Exact = true }).ClickAsync();
        await page.Locator("#kept").WaitForAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Back to the case" }).ClickAsync();
        await Expect(page.GetByText("what is left kept with the case")).ToBeVisibleAsync();

        // The patient leaves. A script's visit takes seconds: its marks are set to the times of a real one, as late taps are.
        await Step("Visit");
        await page.PressMark("Patient leaves");
        var seated = DateTime.UtcNow.AddHours(east).AddMinutes(-70);
        foreach (var (mark, canal, minute) in Visit)
        {
            var said = canal is null ? mark : $"{mark}, {canal}";
            var entry = page.Locator(".record li").Filter(new() { HasTextRegex = new Regex(Regex.Escape(said) + "(?! again)") }).Filter(new() { HasNotText = "Corrected" });
            await entry.GetByRole(AriaRole.Link, new() { Name = "Correct" }).ClickAsync();
            await page.GetByLabel("Right time").FillAsync(seated.AddMinutes(minute).ToString("HH:mm:00", CultureInfo.InvariantCulture));
            await page.GetByLabel("What was wrong").FillAsync("tapped late");
            await page.Settled();
            await page.GetByRole(AriaRole.Button, new() { Name = "Correct", Exact = true }).ClickAsync();
            await Expect(page.Locator("#card")).ToHaveCountAsync(0);
        }

        var shown = await page.Locator(".minutes dd").AllInnerTextsAsync();
        Assert.Equal<string>(Phases, [.. shown.Take(4), shown[5]]);
        seen.Add(string.Join('\n', shown.Select(cell => cell.Replace("(", "min (", StringComparison.Ordinal).Replace(")", " min)", StringComparison.Ordinal) + " min")));
        seen.Add(await page.Locator(".record").InnerTextAsync());
        await Picture("visit");

        // The letter: from the visit finished to the PDF.
        await page.Locator("a.step").WaitForAsync();
        await bench.CountAnew();
        began = Stopwatch.GetTimestamp();
        await page.Locator("a.step").ClickAsync();
        (string Label, string Text)[] finish =
        [
            ("Isolation", "rubber dam"),
            ("Irrigant 1", "sodium hypochlorite"), ("Irrigant 1, percent", "3"), ("Irrigant 1, ml", "20"), ("Irrigant 1, minutes", "15"),
            ("Irrigant 2", "EDTA"), ("Irrigant 2, percent", "17"), ("Irrigant 2, ml", "5"), ("Irrigant 2, minutes", "1"),
            .. Canals.SelectMany(canal => new[] { ($"{canal}, master apical file", "35/.04"), ($"{canal}, master cone", "35/.04"), ($"{canal}, how it was filled", "single cone") }),
            ("Sealer", "calcium silicate sealer"), ("Core", "composite"),
            ("To be restored by who, with what", "the referring practice, with a crown"),
        ];
        foreach (var (canal, i) in Canals.Select((canal, i) => (canal, i)))
        {
            await Expect(page.GetByLabel($"{canal}, working length in mm")).ToHaveValueAsync($"{18 + i}.5");
            await Expect(page.GetByLabel($"{canal}, reference point")).ToHaveValueAsync(Cusp);
            await Expect(page.GetByLabel($"{canal}, master apical file")).ToHaveValueAsync(string.Empty);
        }

        await Expect(page.GetByText($"Noted at the chair in visit 1: working length 18.5 mm from the {Cusp}, by the stop on the instrument. Final size planned: 35/.04. A plan is not filled in")).ToBeVisibleAsync();
        seen.Add(await page.Locator("form").First.InnerTextAsync());
        await Picture("finish");
        foreach (var (label, text) in finish)
        {
            await page.GetByLabel(label, new() { Exact = true }).FillAsync(text);
            seen.Add($"{text} % {text} ml {text} min {text.Replace(',', '.')} mm");
        }

        await page.GetByLabel("no later than").FillAsync(seated.AddDays(28).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await page.GetByLabel("Treatment is complete with this visit").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the finish note" }).ClickAsync();
        await page.GetByLabel("Topic of paragraph").Last.FillAsync("Your question");
        await page.Locator(".paragraph textarea").Last.FillAsync("Yes: the tooth can be kept, if it is covered in time.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Make the letter" }).ClickAsync();
        await Expect(page.Locator(".made")).ToContainTextAsync("Reply, letter 1");
        var letter = await Measured("letter", began);
        await Picture("letter");

        var link = await page.Locator(".made").GetByRole(AriaRole.Link, new() { Name = "PDF" }).GetAttributeAsync("href");
        var pdf = await (await page.APIRequest.GetAsync(link!)).BodyAsync();
        await System.IO.File.WriteAllBytesAsync(Workbench.Artifact("walk", "letter.pdf"), pdf);
        var printed = Poppler.Run("pdftotext", pdf, "-layout", "{pdf}", "-").Replace('\u00a0', ' ');

        // What was entered and shown stands in it …
        var line = Regex.Replace(printed, @"(?m)^( +[125] mm)+$", string.Empty).ReplaceLineEndings(" ");
        Assert.Matches(string.Join(@"\s+", Phases.Select(Regex.Escape)), printed);
        foreach (var (canal, removal) in RemovalOfCanals)
        {
            Assert.Matches($@"(?m)^ *{canal} .*{Regex.Escape(removal)}", printed);
        }

        foreach (var (canal, i) in Canals.Select((canal, i) => (canal, i)))
        {
            Assert.Matches($@"(?m)^ *{canal} .*{18 + i}\.5 mm, mesiobuccal", printed);
        }

        foreach (var headline in headlines)
        {
            foreach (Match figure in Figure().Matches(headline.Replace('\u00a0', ' ')))
            {
                Assert.Contains(figure.Value, line, StringComparison.Ordinal);
            }
        }

        // … and no figure with a unit stands in it that was not entered or shown, but for the bars that give the pictures' scale.
        var known = seen.SelectMany(said => Figure().Matches(said.Replace('\u00a0', ' '))).Select(match => match.Value).ToHashSet();
        Assert.Empty(Figure().Matches(line).Select(match => match.Value).Where(figure => !known.Contains(figure)).Distinct());

        Assert.True(consult.Work.Clicks <= ConsultClicks, $"The consult took {consult.Work.Clicks} clicks.");
        Assert.True(consult.Seconds < ConsultSeconds, $"The consult took {consult.Seconds} s.");
        Assert.True(letter.Work.Clicks <= LetterClicks, $"Finish note and letter took {letter.Work.Clicks} clicks.");
        Assert.True(letter.Work.Fields <= LetterFields, $"Finish note and letter took {letter.Work.Fields} fields.");
        Assert.Empty(bench.Complaints);

        async Task<(HandWork Work, double Seconds)> Measured(string stretch, long since)
        {
            var machine = Stopwatch.GetElapsedTime(since).TotalSeconds;
            var work = await bench.Work();
            var said = string.Create(
                CultureInfo.InvariantCulture,
                $"{stretch}: {work.Clicks} clicks, {work.Fields} fields with {work.Characters} characters; {machine:0.0} s by a script, {work.PersonSeconds:0} s of a person's hands by the keystroke-level model");
            output.WriteLine(said);
            await System.IO.File.WriteAllTextAsync(Workbench.Artifact("walk", stretch + ".txt"), said + "\n");
            return (work, machine + work.PersonSeconds);
        }

        Task Step(string name) => page.GetByRole(AriaRole.Navigation, new() { Name = "Steps of this case" }).GetByRole(AriaRole.Link, new() { Name = name }).ClickAsync();

        async Task Hands(string mark)
        {
            await page.Settled();
            await page.Locator("button.hands").Filter(new() { HasText = mark }).ClickAsync();
            await Expect(page.Locator(".record")).ToContainTextAsync(mark.Replace(" again", string.Empty, StringComparison.Ordinal));
        }

        Task Picture(string state) => page.ScreenshotAsync(new() { Path = Workbench.Artifact("screenshots", $"walk-{state}.png"), FullPage = true });
    }

    private static FilePayload File(string name, byte[] bytes) => new() { Name = name, MimeType = "image/png", Buffer = bytes };

    [GeneratedRegex(@"\d+(\.\d+)?(–\d+(\.\d+)?)? (mm²|mm|%|min\b|ml)")]
    private static partial Regex Figure();
}
