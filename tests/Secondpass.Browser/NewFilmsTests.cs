using Microsoft.Playwright;
using Secondpass.Tests.Radiographs.Identify;
using static Microsoft.Playwright.Assertions;

namespace Secondpass.Browser;

/// <summary>Films come by themselves from the folder into which the sensor's program writes.</summary>
public sealed class NewFilmsTests(Chromium chromium)
{
    // In a clinic of its own: the folder is the whole clinic's.
    [Fact]
    public async Task A_film_that_comes_into_the_folder_is_there_without_reloading_and_one_tap_attaches_it()
    {
        var sensor = Directory.CreateTempSubdirectory("secondpass-sensor-").FullName;
        await using var workbench = new Workbench();
        await workbench.InitializeAsync();
        await using var bench = await Bench.Open(workbench, chromium, path: "/settings");
        var page = bench.Page;
        await page.GetByLabel("The folder on this computer or in its network").FillAsync(sensor);
        await page.Locator("form").Filter(new() { Has = page.Locator("#folder") }).GetByRole(AriaRole.Button).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "New films" })).ToBeVisibleAsync();
        await page.GotoAsync("/settings?at=" + Uri.EscapeDataString(Path.GetTempPath()) + "#films-folder");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Choose this folder" })).ToBeVisibleAsync();

        await page.GotoAsync("/cases/new");
        await page.GetByLabel("Name").FillAsync("Anna Bird");
        await page.GetByLabel("Born").FillAsync("1961-03-04");
        var path = await page.OpenCase("N-100", "16");
        await Expect(page.Locator(".patient")).ToHaveTextAsync("Patient N-100, Anna Bird, born 4 March 1961");
        await page.GotoAsync(path + "/films");
        await Expect(page.GetByText("None just now.")).ToBeVisibleAsync();
        await page.EvaluateAsync("() => { window.neverReloaded = true; }");

        await File.WriteAllBytesAsync(Path.Combine(sensor, "IMG_1.dcm"), NamedFilm.Of("Bird^Anna", "N-100", "19610304", "16", "20260304", "091530"), TestContext.Current.CancellationToken);
        var attach = page.GetByRole(AriaRole.Button, new() { Name = "Attach to this case IMG_1.dcm" });
        await Expect(attach).ToBeVisibleAsync();
        Assert.True(await page.EvaluateAsync<bool>("() => window.neverReloaded"));
        await Expect(page.GetByText("This patient")).ToBeVisibleAsync();

        await File.WriteAllBytesAsync(Path.Combine(sensor, "IMG_2.dcm"), NamedFilm.Of("Finch^Ben", "N-200", "19710305", "26", "20260304", "101500", shade: 900), TestContext.Current.CancellationToken);
        await File.WriteAllBytesAsync(Path.Combine(sensor, "export.dcm"), NamedFilm.Of(shade: 1500), TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(Path.Combine(sensor, "notes.txt"), "not a film", TestContext.Current.CancellationToken);
        await Expect(page.Locator(".films > li")).ToHaveCountAsync(3);
        await Expect(page.Locator(".films > li").First).ToContainTextAsync("IMG_1.dcm");
        await Expect(page.GetByText("Files that can’t be read (1)")).ToBeVisibleAsync();
        await Armed();
        await page.GetByText("Files that can’t be read (1)").ClickAsync();
        await page.LookAtEverySize("new-films-case");

        await bench.CountAnew();
        await Armed();
        await attach.ClickAsync();
        await Expect(page.Locator(".pictures img")).ToHaveCountAsync(1);
        Assert.Equal(1, await bench.Clicks());
        Assert.True(File.Exists(Path.Combine(sensor, "IMG_1.dcm")));

        // Another patient's film is not attached before it is said why.
        await Armed();
        await page.GetByRole(AriaRole.Button, new() { Name = "Attach all the same … IMG_2.dcm" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Whose film is it?" })).ToBeVisibleAsync();
        await Expect(page.Locator(".confirm li")).ToHaveTextAsync(
        [
            "The film says patient number N-200, the case N-100.",
            "The film is of “Finch, Ben”, the case of “Anna Bird”.",
            "The film says born on 5 March 1971, the case on 4 March 1961.",
            "The film names the upper left first molar (26), the case is about the upper right first molar (16).",
        ]);
        await page.LookAtEverySize("new-films-whose");
        await page.GetByLabel("Why it belongs to this case all the same").FillAsync("taken at the wrong patient’s page");
        await page.GetByRole(AriaRole.Button, new() { Name = "Attach it, with this reason" }).ClickAsync();
        await Expect(page.Locator(".origin")).ToContainTextAsync("taken at the wrong patient’s page");
        await Expect(page.Locator(".pictures img")).ToHaveCountAsync(2);

        await page.GetByRole(AriaRole.Button, new() { Name = "Put aside export.dcm" }).ClickAsync();
        await Expect(page.GetByText("Put aside (1)")).ToBeVisibleAsync();
        await Armed();
        await page.GetByText("Put aside (1)").ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Take back export.dcm" }).ClickAsync();
        await Expect(page.Locator(".films > li")).ToHaveCountAsync(1);

        // The page where no case is open; the stick is pulled out and put in again.
        await page.GetByRole(AriaRole.Link, new() { Name = "Films", Exact = true }).ClickAsync();
        await Expect(page.GetByLabel("Case for export.dcm")).ToBeVisibleAsync();
        await page.LookAtEverySize("new-films-menu");
        Directory.Move(sensor, sensor + ".away");
        await Expect(page.GetByText("The folder of new films can’t be reached since")).ToBeVisibleAsync();
        await page.LookAtEverySize("new-films-gone");
        Directory.Move(sensor + ".away", sensor);
        await Expect(page.GetByLabel("Case for export.dcm")).ToBeVisibleAsync();
        await page.GetByLabel("Case for export.dcm").SelectOptionAsync(new SelectOptionValue { Value = new Uri(path).Segments[^1] });
        await Armed();
        await page.GetByRole(AriaRole.Button, new() { Name = "Attach export.dcm" }).ClickAsync();
        await Expect(page.GetByText("Attached to the case of patient N-100, upper right first molar, before treatment, tube straight.")).ToBeVisibleAsync();

        await page.GotoAsync("/films/import");
        await page.LookAtEverySize("import-begin");
        await File.WriteAllBytesAsync(Path.Combine(sensor, "old.dcm"), NamedFilm.Of(shade: 2500), TestContext.Current.CancellationToken);
        await File.WriteAllBytesAsync(Path.Combine(sensor, "old-16.dcm"), NamedFilm.Of("Bird^Anna", "N-100", "19610304", "16", "20190304", shade: 500), TestContext.Current.CancellationToken);
        await File.WriteAllBytesAsync(Path.Combine(sensor, "old-16-again.dcm"), NamedFilm.Of("Bird^Anna", "N-100", "19610304", "16", "20190304", shade: 500), TestContext.Current.CancellationToken);
        await page.GetByLabel("With all folders in it").FillAsync(sensor);
        await page.GetByRole(AriaRole.Button, new() { Name = "Look at its films" }).ClickAsync();
        await Expect(page.GetByText("Nothing is stored yet.")).ToBeVisibleAsync();
        await Expect(page.Locator(".rows > li")).ToHaveCountAsync(7);
        await page.LookAtEverySize("import-table");
        await page.GetByLabel("When old-16-again.dcm was taken").SelectOptionAsync("Recall");
        var import = page.Locator("button[data-part=import]");
        await Expect(import).ToHaveTextAsync("Import 1 film");
        await page.GetByLabel("Case for old.dcm").SelectOptionAsync(new SelectOptionValue { Index = 1 });
        await Expect(import).ToHaveTextAsync("Import 2 films");
        await page.GetByLabel("Case for old.dcm").SelectOptionAsync(new SelectOptionValue { Index = 0 });
        await import.ClickAsync();
        await Expect(page.GetByText("1 film imported, 6 not.")).ToBeVisibleAsync();
        await page.LookAtEverySize("import-done");
        await page.GotoAsync("/settings?at=" + Uri.EscapeDataString(sensor) + "#films-folder");
        await page.LookAtEverySize("films-folder");
        Assert.Empty(bench.Complaints);
        Directory.Delete(sensor, recursive: true);

        // A tap in the first moment after the list changed is taken for one that was meant for what stood there before.
        Task Armed() => page.WaitForTimeoutAsync(1000);
    }
}
