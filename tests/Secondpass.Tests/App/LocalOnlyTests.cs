using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Secondpass.App;
using Secondpass.App.Api;

namespace Secondpass.Tests.App;

public sealed class LocalOnlyTests(RunningWorkbench workbench)
{
    private static CancellationToken Cancelled => TestContext.Current.CancellationToken;

    private int Port => workbench.Client.BaseAddress!.Port;

    [Theory]
    [InlineData("secondpass.example")]
    [InlineData("localhost.example")]
    [InlineData("192.168.0.7")]
    public async Task Answers_under_its_own_addresses_only(string name)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/what-is-left");
        request.Headers.Host = FormattableString.Invariant($"{name}:{Port}");

        var answer = await workbench.Client.SendAsync(request, Cancelled);

        Assert.Equal(HttpStatusCode.MisdirectedRequest, answer.StatusCode);
        Assert.Equal(FormattableString.Invariant($"“{name}:{Port}” is not an address of this workbench."), await Reason(answer));
    }

    [Theory]
    [InlineData("http://example.org", null, false)]
    [InlineData("null", null, false)]
    [InlineData("http://localhost:1", null, false)]
    [InlineData(null, "cross-site", false)]
    [InlineData(null, "same-site", false)]
    [InlineData("own", "same-origin", true)]
    [InlineData(null, "same-origin", true)]
    [InlineData(null, null, true)]
    public async Task Lets_only_its_own_pages_change_anything(string? origin, string? site, bool allowed)
    {
        using var request = new HttpRequestMessage(HttpMethod.Delete, "/api/films/none");
        request.Headers.TryAddWithoutValidation("Origin", origin == "own" ? FormattableString.Invariant($"http://localhost:{Port}") : origin);
        request.Headers.TryAddWithoutValidation("Sec-Fetch-Site", site);

        var answer = await workbench.Client.SendAsync(request, Cancelled);

        Assert.Equal(allowed ? HttpStatusCode.NoContent : HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task Listens_on_this_computer_s_own_addresses_only()
    {
        foreach (var address in Dns.GetHostAddresses(Dns.GetHostName()).Where(address => !IPAddress.IsLoopback(address)))
        {
            using var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
            await Assert.ThrowsAsync<SocketException>(async () => await socket.ConnectAsync(address, Port, Cancelled));
        }

        using var loopback = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        await loopback.ConnectAsync(IPAddress.Loopback, Port, Cancelled);
    }

    [Theory]
    [InlineData("/what-is-left")]
    [InlineData("/settings")]
    [InlineData("/api/films/none")]
    [InlineData("/no-such-page")]
    public async Task Lets_browsers_load_nothing_from_elsewhere_and_keep_no_copy(string path)
    {
        var answer = await workbench.Client.GetAsync(path, Cancelled);

        Assert.Equal(LocalOnly.Policy, Assert.Single(answer.Headers.GetValues("Content-Security-Policy")));
        Assert.DoesNotContain("unsafe", LocalOnly.Policy, StringComparison.Ordinal);
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        Assert.True(answer.Headers.CacheControl!.NoStore);
    }

    [Fact]
    public void Refuses_a_port_that_is_taken()
    {
        var refusal = Server.Start(new ServeOptions(Port), workbench.Store).Refusal;

        Assert.Equal("port_taken", refusal.Code);
        Assert.Equal(FormattableString.Invariant($"Port {Port} is taken by another program."), refusal.Reason);
        Assert.Equal("Start with another --port, or with --port 0 for any free one.", refusal.Remedy);
    }

    [Fact]
    public async Task Turns_a_defect_into_a_plain_answer()
    {
        var context = new DefaultHttpContext { RequestServices = new ServiceCollection().AddLogging().BuildServiceProvider() };
        context.Response.Body = new MemoryStream();

        await new FailuresAsAnswers(_ => throw new InvalidOperationException("inside"), NullLogger<FailuresAsAnswers>.Instance).InvokeAsync(context);

        context.Response.Body.Position = 0;
        var text = await new StreamReader(context.Response.Body).ReadToEndAsync(Cancelled);
        Assert.Equal(StatusCodes.Status500InternalServerError, context.Response.StatusCode);
        Assert.Contains("Something went wrong inside Secondpass; nothing that was entered or kept is lost.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("InvalidOperation", text, StringComparison.Ordinal);
    }

    private static async Task<string> Reason(HttpResponseMessage answer) =>
        JsonSerializer.Deserialize<JsonElement>(await answer.Content.ReadAsStringAsync(Cancelled)).GetProperty("reason").GetString()!;
}
