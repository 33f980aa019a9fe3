using System.Net;
using System.Text;
using System.Text.Json;
using Secondpass.App;
using Secondpass.Job.Documents;
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

    [Fact]
    public async Task A_kept_result_is_read_together_with_one_of_the_same_tooth_from_another_film()
    {
        using var folder = new TemporaryFolder();
        using var store = ClinicStore.Open(folder.Path, TimeProvider.System).Value;
        var straight = Keep(store, "Straight", "46", film: 2, mass: 40, half: 55);
        var turned = Keep(store, "Turned", "46", film: 3, mass: 12, half: 6);
        var same = Keep(store, "Same film", "46", film: 2, mass: 41, half: 55);
        var another = Keep(store, "Another tooth", "16", film: 4, mass: 12, half: 6);
        await using var app = Server.Start(new ServeOptions(Port: 0), store).Value;
        using var client = new HttpClient();
        client.BaseAddress = new Uri(Server.Address(app));
        await client.PostAsync("/api/notice", null, TestContext.Current.CancellationToken);

        var offered = WebUtility.HtmlDecode(await client.GetStringAsync($"/what-is-left/kept/{straight}", TestContext.Current.CancellationToken));
        Assert.Contains($"?with={turned}", offered, StringComparison.Ordinal);
        Assert.DoesNotContain($"?with={same}", offered, StringComparison.Ordinal);
        Assert.DoesNotContain($"?with={another}", offered, StringComparison.Ordinal);

        var together = WebUtility.HtmlDecode(await client.GetStringAsync($"/what-is-left/kept/{straight}?with={turned}", TestContext.Current.CancellationToken));
        Assert.Contains("“Straight” is the first pair", together, StringComparison.Ordinal);
        Assert.Contains("12 % (6–19 %)", together, StringComparison.Ordinal);
        Assert.DoesNotContain("first pair", (await client.GetStringAsync($"/what-is-left/kept/{straight}?with={another}", TestContext.Current.CancellationToken)), StringComparison.Ordinal);
    }

    private static string Keep(ClinicStore store, string label, string tooth, byte film, double mass, double half)
    {
        var result = new CompareDocument(
            1,
            new RegistrationDocument(true, null, null, [1, 0, 0, 0, 1, 0, 0, 0, 1], 0.5),
            [new ComparedCanalDocument("D", "ok", null, null, null, mass, [mass - half, mass + half], new ThirdsDocument(null, null, null), [], null, 0)],
            []);
        return store.KeepComparison(
            label,
            store.KeepFilm(Film(1)).Value,
            store.KeepFilm(Film(film)).Value,
            $$"""{"schema":1,"tooth":"{{tooth}}"}""",
            Encoding.UTF8.GetString(DocumentJson.Write(result)),
            "sheet"u8).Value.Id;

        static byte[] Film(byte value) => [.. Enumerable.Repeat(value, 1000)];
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
