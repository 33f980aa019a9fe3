using System.Net;
using System.Text.RegularExpressions;
using Secondpass.Domain.Cases;
using Secondpass.Records.Events;
using Secondpass.Tests.Radiographs.Identify;
using Secondpass.Tests.Records;

namespace Secondpass.Tests.App;

public sealed partial class FilmPagesTests(RunningWorkbench bench)
{
    private static readonly Author Anna = new("Anna", "desk-1");

    [Fact]
    public async Task A_film_of_another_patient_is_asked_about_on_the_page_and_attached_with_the_reason()
    {
        using var sensor = new TemporaryFolder();
        var it = Open("FP-1");
        File.WriteAllBytes(sensor.Of("IMG_7.dcm"), NamedFilm.Of("Finch^Ben", "4712", "19710305", "16", shade: 71));
        await bench.Post("/settings", "films-folder", ("FolderTyped", sensor.Path));
        try
        {
            var act = await ActOf("IMG_7.dcm", $"/cases/{it.Id}/films");
            var asked = await Text(await bench.Post($"/cases/{it.Id}/films", "new-films", ("New.Act", act), ("New.Moment", "During"), ("New.Shift", "Mesial")));
            Assert.Contains("Whose film is it?", asked, StringComparison.Ordinal);
            Assert.Contains("The film says patient number 4712, the case FP-1.", asked, StringComparison.Ordinal);
            Assert.Empty(bench.Store.Cases.Read(it.Id).Value.Films);

            var shown = WebUtility.HtmlDecode(Shown().Match(asked).Groups[1].Value);
            var done = await bench.Post($"/cases/{it.Id}/films", "new-films-confirmed", ("New.Act", act), ("New.Moment", "During"), ("New.Shift", "Mesial"), ("New.Shown", shown), ("New.Why", "typed at the wrong patient"));
            Assert.Equal(HttpStatusCode.Found, done.StatusCode);
            var film = Assert.Single(bench.Store.Cases.Read(it.Id).Value.Films);
            Assert.Equal((FilmMoment.During, TubeShift.Mesial, "typed at the wrong patient"), (film.Moment, film.Shift, film.Origin!.WhyAttached));
            Assert.Contains("attached this film to this case already, on ", await Text(await bench.Post($"/cases/{it.Id}/films", "new-films", ("New.Act", act))), StringComparison.Ordinal);

            File.Delete(sensor.Of("IMG_7.dcm"));
            Directory.Delete(sensor.Path);
            await Until(async () => (await bench.Read("/films")).Contains("can’t be reached since", StringComparison.Ordinal));
            Assert.Contains("does not lie in the folder of new films any more", await Text(await bench.Post($"/cases/{it.Id}/films", "new-films", ("New.Act", act))), StringComparison.Ordinal);
            Directory.CreateDirectory(sensor.Path);
            Assert.Contains("because “typed at the wrong patient”. The film says patient number 4712, the case FP-1.", await bench.Read($"/cases/{it.Id}"), StringComparison.Ordinal);
        }
        finally
        {
            await bench.Post("/settings", "films-folder", ("FolderTyped", ""));
        }
    }

    [Fact]
    public async Task Files_sent_to_a_case_lie_ready_while_it_is_asked_whose_they_are()
    {
        var it = Open("FP-2");
        using var content = new MultipartFormDataContent();
        content.Add(new StringContent("film"), "\"_handler\"");
        content.Add(new StringContent("1"), "\"Film.Version\"");
        content.Add(new ByteArrayContent(NamedFilm.Of("Finch^Ben", "4712", shade: 72)), "\"films\"", "\"ben.dcm\"");
        await bench.Read("/cases");
        var asked = await Text(await bench.Client.PostAsync($"/cases/{it.Id}/films", content, TestContext.Current.CancellationToken));
        Assert.Contains("Chosen already: “ben.dcm”.", asked, StringComparison.Ordinal);
        var sha = Ready().Match(asked).Groups[1].Value;

        var done = await bench.Post(
            $"/cases/{it.Id}/films",
            "film",
            ("Film.Version", "1"),
            ("Film.Ready[0].Sha256", sha),
            ("Film.Ready[0].Name", "ben.dcm"),
            ("Film.Shown", "The film says patient number 4712, the case FP-2."),
            ("Film.Why", "the sensor counts for itself"));
        Assert.Equal(HttpStatusCode.Found, done.StatusCode);
        Assert.Equal("the sensor counts for itself", Assert.Single(bench.Store.Cases.Read(it.Id).Value.Films).Origin!.WhyAttached);
    }

    [Fact]
    public async Task A_folder_is_imported_over_its_table_and_the_report_says_what_was_not()
    {
        using var old = new TemporaryFolder();
        var it = Open("FP-3");
        File.WriteAllBytes(old.Of("1.dcm"), NamedFilm.Of(number: "FP-3", tooth: "16", shade: 73));
        File.WriteAllBytes(old.Of("2.txt"), "no film"u8.ToArray());
        var begun = await bench.Post("/films/import", "import-folder", ("FolderTyped", old.Path));
        var page = begun.Headers.Location!.ToString();
        await Until(async () => (await bench.Read(page)).Contains("Nothing is stored yet", StringComparison.Ordinal));
        var table = await bench.Read(page);
        Assert.Contains("Import 1 film", table, StringComparison.Ordinal);
        Assert.Contains("Not readable.", table, StringComparison.Ordinal);
        Assert.Contains($"<option value=\"{it.Id}\" selected", table, StringComparison.Ordinal);
        Assert.Empty(bench.Store.Cases.Read(it.Id).Value.Films);

        await bench.Post(page, "import", ("Form.Act", "store"), ("Form.CaseOf[0]", it.Id.Value), ("Form.MomentOf[0]", "Recall"));
        await Until(async () => (await bench.Read(page)).Contains("1 film imported, 1 not.", StringComparison.Ordinal));
        Assert.Equal(FilmMoment.Recall, Assert.Single(bench.Store.Cases.Read(it.Id).Value.Films).Moment);
    }

    [Fact]
    public async Task A_folder_that_there_is_not_is_refused_in_words_on_the_settings_page_with_what_was_typed()
    {
        var page = await Text(await bench.Post("/settings", "films-folder", ("FolderTyped", "/no/such/folder")));

        Assert.Contains("There is no folder “/no/such/folder” on this computer.", page, StringComparison.Ordinal);
        Assert.Contains("value=\"/no/such/folder\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_folder_the_page_of_films_says_how_to_get_one() =>
        await Until(async () => (await bench.Read("/films?nothing")).Contains("No folder of new films is chosen on this computer.", StringComparison.Ordinal));

    private DentalCase Open(string number) => bench.Store.Cases.Open(
        new CaseOpened(new Patient(number, null), Secondpass.Domain.Anatomy.ToothNumber.Parse("16").Value, new Referral(null, null, "Pain", null, false, null)), Anna).Value;

    private async Task<string> ActOf(string name, string page)
    {
        var act = string.Empty;
        await Until(async () =>
        {
            act = Regex.Match(await bench.Read(page), $"value=\"(attach [0-9a-f]{{64}})\"[^>]*>[^<]*<span[^>]*>{Regex.Escape(name)}").Groups[1].Value;
            return act.Length > 0;
        });
        return act;
    }

    private static async Task Until(Func<Task<bool>> holds)
    {
        for (var tried = 0; !await holds(); tried++)
        {
            Assert.True(tried < 100, "It did not come in twenty seconds.");
            await Task.Delay(200, TestContext.Current.CancellationToken);
        }
    }

    private static async Task<string> Text(HttpResponseMessage answer) => WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

    [GeneratedRegex("name=\"New.Shown\" value=\"([^\"]*)\"")]
    private static partial Regex Shown();

    [GeneratedRegex("name=\"Film.Ready\\[0\\].Sha256\" value=\"([^\"]*)\"")]
    private static partial Regex Ready();
}
