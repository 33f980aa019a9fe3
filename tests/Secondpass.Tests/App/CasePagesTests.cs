using System.Net;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;

namespace Secondpass.Tests.App;

public sealed class CasePagesTests(RunningWorkbench workbench)
{
    [Fact]
    public async Task A_case_is_opened_by_a_form_and_shows_tooth_and_patient_in_words()
    {
        var page = await workbench.Read(await Open("W-1"));

        Assert.Contains("upper right first molar", page, StringComparison.Ordinal);
        Assert.Contains("W-1", page, StringComparison.Ordinal);
        Assert.Contains("Not asked", page, StringComparison.Ordinal);
        Assert.Contains("/assessment\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_refused_form_comes_back_with_the_reason_and_with_everything_typed()
    {
        var answer = await workbench.Post("/cases/new", "new-case", ("Form.PatientNumber", "W-2"), ("Form.Tooth", "99"), ("Form.Reason", "Pain <on> biting"), ("Form.Practice", "Two\nlines"));
        var page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

        Assert.Contains("“99” is not a tooth in any notation known here.", page, StringComparison.Ordinal);
        Assert.Contains("value=\"W-2\"", page, StringComparison.Ordinal);
        Assert.Contains("value=\"99\"", page, StringComparison.Ordinal);
        Assert.Contains("Pain <on> biting</textarea>", page, StringComparison.Ordinal);
        Assert.Contains("Two\nlines</textarea>", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_database_that_another_program_holds_is_said_and_what_was_typed_stays_on_the_page()
    {
        await using var own = new RunningWorkbench();
        await own.Read("/cases");
        await using var other = new SqliteConnection($"Data Source={own.Database};Pooling=False");
        await other.OpenAsync(TestContext.Current.CancellationToken);
        await using (other.BeginTransaction(deferred: false))
        {
            var page = WebUtility.HtmlDecode(await (await Send()).Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

            Assert.Contains($"Another program holds “{own.Database}”.", page, StringComparison.Ordinal);
            Assert.Contains("Close the other Secondpass that uses this data folder, then do it again.", page, StringComparison.Ordinal);
            Assert.Contains("value=\"W-9\"", page, StringComparison.Ordinal);
            Assert.Contains("Pain on biting</textarea>", page, StringComparison.Ordinal);
        }

        Assert.Equal(HttpStatusCode.Redirect, (await Send()).StatusCode);

        Task<HttpResponseMessage> Send() => own.Post("/cases/new", "new-case", ("Form.PatientNumber", "W-9"), ("Form.Tooth", "16"), ("Form.Reason", "Pain on biting"));
    }

    [Fact]
    public async Task A_canal_that_splits_at_40_mm_is_refused_and_stays_typed()
    {
        var path = await Open("W-3");
        var answer = await workbench.Post(
            path + "/canals",
            "canals",
            ("Form.Version", "1"),
            ("Form.Canals[0].Name", "DB"),
            ("Form.Canals[0].Root", "DB"),
            ("Form.Canals[0].Filling", "Filled"),
            ("Form.Canals[1].Name", "DB2"),
            ("Form.Canals[1].Root", "DB"),
            ("Form.Canals[1].Parent", "DB"),
            ("Form.Canals[1].Meets", "splits"),
            ("Form.Canals[1].MeetsFromEnd", "40"));
        var page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

        Assert.Contains("DB2, level of the split: 40 mm can't be.", page, StringComparison.Ordinal);
        Assert.Matches(new Regex("name=\"Form.Canals\\[1\\].MeetsFromEnd\" value=\"40\""), page);
    }

    [Fact]
    public async Task The_second_of_two_people_is_told_who_changed_what_and_keeps_what_was_typed()
    {
        var path = await Open("W-4");
        (string, string)[] first = [("Form.Version", "1"), ("Form.Reason", "Lesion")];
        (string, string)[] second = [("Form.Version", "1"), ("Form.Reason", "Pain on biting"), ("Form.Question", "Can it be kept?")];
        Assert.Equal(HttpStatusCode.Redirect, (await workbench.Post(path + "/referral", "referral", first)).StatusCode);

        var page = WebUtility.HtmlDecode(await (await workbench.Post(path + "/referral", "referral", second)).Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

        Assert.Contains("changed this case meanwhile", page, StringComparison.Ordinal);
        Assert.Contains("referral entered anew", page, StringComparison.Ordinal);
        Assert.Contains("Can it be kept?</textarea>", page, StringComparison.Ordinal);
        Assert.Contains("name=\"Form.Version\" value=\"2\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_wrong_tooth_is_corrected_on_the_referral_page_and_the_question_back_is_answered_by_sending_again()
    {
        var path = await Open("W-5");
        (string, string)[] fields = [("Correction.Version", "1"), ("Correction.PatientNumber", "W-5"), ("Correction.Tooth", "17"), ("Correction.Reason", "digits swapped")];
        var asked = WebUtility.HtmlDecode(await (await workbench.Post(path + "/referral", "correction", fields)).Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        Assert.Contains("The tooth becomes the upper right second molar, 17, instead of the upper right first molar, 16.", asked, StringComparison.Ordinal);
        var confirmed = Regex.Match(asked, "name=\"Correction.Confirmed\" value=\"([^\"]*)\"").Groups[1].Value;

        Assert.Equal(HttpStatusCode.Redirect, (await workbench.Post(path + "/referral", "correction", [.. fields, ("Correction.Confirmed", confirmed)])).StatusCode);

        Assert.Contains("tooth corrected: upper right second molar (17), not upper right first molar (16); digits swapped", await workbench.Read(path), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_list_goes_to_the_next_step_of_each_case_as_the_case_itself_does()
    {
        var path = await Open("W-6");
        Assert.Contains($"href=\"{path}/assessment\"", await workbench.Read("/cases?find=W-6"), StringComparison.Ordinal);

        var assessed = await workbench.Post(path + "/assessment", "assessment", ("Form.Version", "1"), ("Form.Apical", "AsymptomaticPeriodontitis"), ("Form.Before", "Restorable"));

        Assert.Equal(HttpStatusCode.Redirect, assessed.StatusCode);
        Assert.Contains($"href=\"{path}/canals\"", await workbench.Read("/cases?find=W-6"), StringComparison.Ordinal);
        Assert.DoesNotContain($"href=\"{path}/assessment\"", await workbench.Read("/cases?find=W-6"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/cases/00000000000000000000000000000000")]
    [InlineData("/cases/no-such-case/canals")]
    public async Task A_case_that_is_not_there_is_said_in_words(string path) =>
        Assert.Contains("This case can't be shown", await workbench.Read(path), StringComparison.Ordinal);

    [Fact]
    public async Task The_tooth_is_echoed_while_it_is_typed()
    {
        Assert.Contains("upper right first molar", await workbench.Read("/api/teeth?text=16"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await workbench.Client.GetAsync("/api/teeth?text=99", TestContext.Current.CancellationToken)).StatusCode);
    }

    private async Task<string> Open(string number)
    {
        var answer = await workbench.Post("/cases/new", "new-case", ("Form.PatientNumber", number), ("Form.Tooth", "16"), ("Form.Reason", "Pain on biting"));
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return new Uri(workbench.Client.BaseAddress!, answer.Headers.Location!).AbsolutePath;
    }
}
