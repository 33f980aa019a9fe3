using Microsoft.Playwright;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Records;
using Secondpass.Records.Events;
using UglyToad.PdfPig;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

public sealed class VisitToLetterTests(Workbench workbench, Chromium chromium)
{
    [Fact]
    public async Task From_the_chair_to_the_letter_with_the_minutes_of_the_visit_in_it()
    {
        var id = Opened();
        await using var bench = await Bench.Open(workbench, chromium, path: $"/cases/{id}/visit");
        var page = bench.Page;

        // The next mark is the one thing to press: the case's own next step doesn't compete with it.
        await Expect(page.Locator(".case .next")).ToHaveCountAsync(0);
        await page.PressMark("Patient seated");
        await page.PressMark("Access begins");
        await page.Settled();
        await page.GetByRole(AriaRole.Button, new() { Name = "Take off the metal crown." }).ClickAsync();
        await Expect(page.Locator(".ticked")).ToContainTextAsync("Take off the metal crown.");
        await Expect(page.Locator(".record")).ToContainTextAsync("Done: Take off the metal crown.");
        await page.LookAtEverySize("case-take-down");
        await page.PressMark("First touch of filling");

        // Enter in the level's field is no answer to what was seen.
        await page.Settled();
        await page.Locator("#seen-at").FillAsync("15");
        await page.Locator("#seen-at").PressAsync("Enter");
        await Expect(page.Locator("#seen-at")).ToHaveValueAsync("15");
        await Expect(page.Locator(".record")).Not.ToContainTextAsync("filling seen");

        await page.GetByLabel("Instrument", new() { Exact = true }).FillAsync("retreatment rotary 30/.06");
        await page.GetByLabel("Depth as read").FillAsync("17,5");
        await page.Locator("#depth-from").FillAsync("mesiobuccal cusp");
        await page.Settled();
        await page.GetByRole(AriaRole.Button, new() { Name = "Step done" }).ClickAsync();
        await Expect(page.Locator(".record")).ToContainTextAsync("17.5 mm from the mesiobuccal cusp");

        // A double tap on the mark counts once.
        await page.Settled();
        await page.GetByRole(AriaRole.Button, new() { Name = "Length reached" }).First.DblClickAsync();
        await Expect(page.Locator(".record")).ToContainTextAsync("Length reached, MB1");
        await page.Settled();
        Assert.Equal(1, await page.Locator(".record li").Filter(new() { HasText = "Length reached, MB1" }).CountAsync());

        await page.GetByRole(AriaRole.Link, new() { Name = "Separated instrument" }).ClickAsync();
        await Expect(page.Locator("#card")).ToContainTextAsync("Tell the patient today; note who was told and when.");
        await page.GetByLabel("Fragment").FillAsync("2.5");
        await page.GetByLabel("Who was told").FillAsync("the patient");
        await page.Settled();
        await page.GetByRole(AriaRole.Button, new() { Name = "Note it", Exact = true }).ClickAsync();
        await Expect(page.Locator(".record")).ToContainTextAsync("fragment 2.5 mm");
        await page.LookAtEverySize("case-visit");

        // By the keyboard alone: the next mark has the focus.
        await page.Settled();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator(".record")).ToContainTextAsync("Removal complete, MB1");
        await page.PressMark("Shaping ended");
        await page.PressMark("Patient leaves");
        var minutes = await page.Locator(".minutes dd").Nth(2).InnerTextAsync();

        await page.GetByRole(AriaRole.Link, new() { Name = "Finish note" }).ClickAsync();
        await page.GetByLabel("Irrigant 1", new() { Exact = true }).FillAsync("sodium hypochlorite");
        await page.GetByLabel("Irrigant 2", new() { Exact = true }).FillAsync("chlorhexidine");
        await Expect(page.Locator("#irrigant-warnings")).ToContainTextAsync("brown precipitate");
        await page.LookAtEverySize("case-finish");
        await page.GetByLabel("Irrigant 2", new() { Exact = true }).FillAsync("EDTA");
        await Expect(page.Locator("#irrigant-warnings .warning")).ToHaveCountAsync(0);
        await page.GetByLabel("MB1, working length in mm").FillAsync("19.5");
        await page.GetByLabel("MB1, reference point").FillAsync("mesiobuccal cusp");
        await page.GetByLabel("MB1, master apical file").FillAsync("35/.04");
        await page.GetByText("Treatment is complete with this visit").ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the finish note" }).ClickAsync();

        // The letterhead stands open until the clinic has one; the invented clinic may have brought its own by now.
        await page.Locator("details.letterhead").EvaluateAsync("letterhead => letterhead.open = true");
        await page.GetByLabel("Clinic", new() { Exact = true }).FillAsync("Practice at the Invented Mill");
        await page.GetByLabel("Who signs").FillAsync("Dr A. Example");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the letterhead" }).ClickAsync();
        await page.LookAtEverySize("case-letter");
        await page.GetByLabel("Paragraph 1", new() { Exact = true }).FillAsync("Thank you for Jo Invented.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Make the letter" }).ClickAsync();
        await Expect(page.Locator(".made")).ToContainTextAsync("Reply, letter 1");

        var file = await page.APIRequest.GetAsync($"/api/cases/{id}/letters/1.pdf");
        using var letter = PdfDocument.Open(await file.BodyAsync());
        var text = string.Join(' ', letter.GetPages().SelectMany(one => one.GetWords()).Select(word => word.Text));
        foreach (var words in new[] { "Thank you for Jo Invented.", "19.5 mm, mesiobuccal cusp", "35/.04", "the fragment is 2.5 mm long", "Told: the patient", minutes.Trim() })
        {
            Assert.Contains(words, text, StringComparison.Ordinal);
        }

        Assert.Empty(bench.Complaints);
    }

    // Another program may use the same data folder: a case whose canal is noted.
    private string Opened()
    {
        using var store = ClinicStore.Open(workbench.Data, TimeProvider.System).Value;
        var by = new Author("Ann", "desk");
        var opened = store.Cases.Open(
            new CaseOpened(new Patient("10432", "Jo Invented"), ToothNumber.Parse("16").Value, new Referral("Dr B. Sample", "Sample Dental Practice", "pain on biting", null, Urgent: false, null)),
            by).Value;
        var canal = new CanalRecord("MB1", "MB", null, null, Found: true, CanalFilling.ShortOfEnd, new Millimetres(2.1), null, CanalIntent.Retreat, [], [], FoundLater: false);
        return store.Cases.Append(opened.Id, opened.Version, by, [new CanalsNoted([canal]), new PlanChosen(new RemovalPlan("ours", [Apart("Take off the metal crown."), Apart("Loosen and take out the cast post.")], [], []), PlanSettings.None)]).Value.Id.Value;

        static RemovalStep Apart(string action) => new(RemovalPhase.TakeDown, null, null, null, null, null, null, null, "Nothing is cut below the floor.", null, null, null, null, null, null, []) { Action = action };
    }
}
