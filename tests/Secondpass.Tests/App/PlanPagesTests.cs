using System.Net;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Quantities;
using Secondpass.Records.Events;

namespace Secondpass.Tests.App;

public sealed class PlanPagesTests(RunningWorkbench workbench)
{
    [Fact]
    public async Task A_plan_shows_tooth_stop_and_limit_and_is_used_by_one_button()
    {
        var path = Opened("PL-1", CanalIntent.Retreat) + "/plan";
        var page = await workbench.Read(path);

        Assert.Contains("lower right first molar", page, StringComparison.Ordinal);
        Assert.Contains("Proposed, not in use yet", page, StringComparison.Ordinal);
        Assert.Contains("400 rpm is outside the maker's 150–300 rpm for retreatment rotary 30/.06, by 100 rpm above.", page, StringComparison.Ordinal);
        Assert.Contains("ML is left alone", page, StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.Redirect, (await workbench.Post(path, "plan", ("Form.Version", "2"), ("Form.Act", "use"))).StatusCode);
        page = await workbench.Read(path);
        Assert.Contains("The plan in use", page, StringComparison.Ordinal);
        Assert.Contains($"/api{path}.pdf\"", page, StringComparison.Ordinal);
        var paper = await workbench.Client.GetAsync($"/api{path}.pdf", TestContext.Current.CancellationToken);
        Assert.Equal("application/pdf", paper.Content.Headers.ContentType!.MediaType);
        Assert.StartsWith("%PDF-", await paper.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_case_without_a_plan_in_use_has_none_on_paper()
    {
        var answer = await workbench.Client.GetAsync($"/api{Opened("PL-4", CanalIntent.Retreat)}/plan.pdf", TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("There is no plan in use for the lower right first molar.", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_stop_beyond_the_canal_is_refused_and_stays_typed()
    {
        var path = Opened("PL-2", CanalIntent.Retreat) + "/plan";

        var answer = await workbench.Post(path, "plan", ("Form.Version", "2"), ("Form.Act", "use"), ("Form.Canals[0].Name", "D"), ("Form.Canals[0].NoDeeperThan", "25"), ("Form.Canals[0].Final", "35/.04"));
        var page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

        Assert.Contains("The stop at 25 mm lies beyond the end of D, which is 20 mm from the mesiobuccal cusp to the radiographic apex.", page, StringComparison.Ordinal);
        Assert.Contains("value=\"25\"", page, StringComparison.Ordinal);
        Assert.Contains("value=\"35/.04\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_nothing_is_to_be_removed_the_page_says_why() =>
        Assert.Contains("There is no step to plan.", await workbench.Read(Opened("PL-3", CanalIntent.LeaveAlone) + "/plan"), StringComparison.Ordinal);

    [Fact]
    public async Task A_refused_sequence_comes_back_as_typed()
    {
        var page = await workbench.Read("/instruments");
        var version = workbench.Store.Clinic.Read().Version.ToString(CultureInfo.InvariantCulture);
        Assert.Contains("retreatment rotary 30/.06", page, StringComparison.Ordinal);

        var answer = await workbench.Post("/instruments", "sequence-new", ("Form.Which", "sequence"), ("Form.Version", version), ("Form.SequenceName", "Brisk <one>"), ("Form.Steps[0].KindCode", "retreatment-30-06"), ("Form.Steps[0].Rpm", "fast"));
        page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

        Assert.Contains("Step 1, speed: “fast” is not a number.", page, StringComparison.Ordinal);
        Assert.Contains("value=\"Brisk <one>\"", page, StringComparison.Ordinal);
        Assert.Contains("value=\"fast\"", page, StringComparison.Ordinal);
    }

    private string Opened(string number, CanalIntent intent)
    {
        var by = new Author("Anna", "desk-1");
        var it = workbench.Store.Cases.Open(new CaseOpened(new Patient(number, null), ToothNumber.Parse("46").Value, new Referral(null, null, "pain on biting", null, Urgent: false, null)), by).Value;
        workbench.Store.Cases.Append(it.Id, it.Version, by, [new CanalsNoted([Canal("D", intent), Canal("ML", CanalIntent.LeaveAlone)])]);
        return $"/cases/{it.Id}";
    }

    private static CanalRecord Canal(string name, CanalIntent intent) => new(
        name, name, null, null, Found: true, CanalFilling.Filled, new Millimetres(1), null, intent, [], [new LengthReading(new ReferencePoint("mesiobuccal cusp", 1), LengthEnd.RadiographicApex, new Millimetres(20), LengthSource.Film)], FoundLater: false);
}
