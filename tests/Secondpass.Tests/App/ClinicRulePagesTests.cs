using System.Net;

namespace Secondpass.Tests.App;

public sealed class ClinicRulePagesTests(RunningWorkbench workbench)
{
    [Fact]
    public async Task A_currency_that_is_not_known_is_refused_and_stays_typed()
    {
        var answer = await workbench.Post("/settings", "currency", ("Currency", "euros"));
        var page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

        Assert.Contains("“euros” is not a currency that is known here.", page, StringComparison.Ordinal);
        Assert.Contains("value=\"euros\"", page, StringComparison.Ordinal);
        Assert.Null(workbench.Store.Clinic.Read().CurrencyCode);
    }

    [Fact]
    public async Task A_form_without_a_way_to_count_uses_is_refused()
    {
        var version = workbench.Store.Clinic.Read().Version.ToString(CultureInfo.InvariantCulture);

        var answer = await workbench.Post("/instruments", "count", ("Form.Which", "count"), ("Form.Version", version), ("Form.UseCount", "7"));

        Assert.Contains("It is not said how a use is counted.", WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)), StringComparison.Ordinal);
    }
}
