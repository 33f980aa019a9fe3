using System.Net;
using System.Text.Json;
using Secondpass.App;
using Secondpass.Records;
using Secondpass.Tests.Records;

namespace Secondpass.Tests.App;

public sealed class PagesTests
{
    [Fact]
    public async Task Shows_the_notice_until_it_is_accepted_and_remembers_that_over_a_restart()
    {
        const string notice = "Secondpass is not a certified medical device.";
        using var folder = new TemporaryFolder();

        await Serving(folder, async client =>
        {
            var first = WebUtility.HtmlDecode(await client.GetStringAsync("/what-is-left", TestContext.Current.CancellationToken));
            Assert.Contains(notice, first, StringComparison.Ordinal);
            Assert.Contains("It supports a licensed clinician's judgement and never replaces it.", first, StringComparison.Ordinal);
            Assert.DoesNotContain("<nav", first, StringComparison.Ordinal);

            var accepted = await client.PostAsync("/api/notice", null, TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.Redirect, accepted.StatusCode);
        });

        await Serving(folder, async client =>
        {
            var page = await client.GetStringAsync("/what-is-left", TestContext.Current.CancellationToken);
            Assert.DoesNotContain(notice, page, StringComparison.Ordinal);
            Assert.Equal(5, page.Split("<nav")[1].Split("</nav>")[0].Split("<a ").Length - 1);
            Assert.DoesNotContain("invented example", page, StringComparison.Ordinal);
            Assert.Contains(folder.Path, await client.GetStringAsync("/settings", TestContext.Current.CancellationToken), StringComparison.Ordinal);
            Assert.Contains("None yet.", await client.GetStringAsync("/what-is-left/kept", TestContext.Current.CancellationToken), StringComparison.Ordinal);
            var missing = await client.GetAsync("/no-such-page", TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.NotFound, missing.StatusCode);
            Assert.Contains("There is no such page", await missing.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        });
    }

    [Theory]
    [InlineData("/what-is-left")]
    [InlineData("/what-is-left/kept")]
    [InlineData("/cases")]
    public async Task A_page_is_read_and_never_posted_to(string path)
    {
        using var folder = new TemporaryFolder();

        await Serving(folder, async client =>
        {
            using var form = new FormUrlEncodedContent([new("name", "value")]);
            foreach (var content in new HttpContent?[] { null, form })
            {
                var answer = await client.PostAsync(path, content, TestContext.Current.CancellationToken);

                // RFC 9110, 15.5.6: 405 names the methods that the address answers to.
                Assert.Equal(HttpStatusCode.MethodNotAllowed, answer.StatusCode);
                Assert.Equal(["GET", "HEAD"], answer.Content.Headers.Allow);
                var refusal = JsonSerializer.Deserialize<JsonElement>(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
                Assert.Equal($"POST does nothing at {path}; it answers to GET, HEAD.", refusal.GetProperty("reason").GetString());
                Assert.Equal("Open the page in a browser, and use its own buttons.", refusal.GetProperty("remedy").GetString());
            }

            using var head = new HttpRequestMessage(HttpMethod.Head, path);
            Assert.Equal(HttpStatusCode.OK, (await client.SendAsync(head, TestContext.Current.CancellationToken)).StatusCode);
        });
    }

    private static async Task Serving(TemporaryFolder folder, Func<HttpClient, Task> look)
    {
        using var store = ClinicStore.Open(folder.Path, TimeProvider.System).Value;
        await using var app = Server.Start(new ServeOptions(Port: 0), store).Value;
        using var client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false });
        client.BaseAddress = new Uri(Server.Address(app));
        await look(client);
    }
}
