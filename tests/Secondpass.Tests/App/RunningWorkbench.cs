using System.Net;
using Microsoft.AspNetCore.Builder;
using Secondpass.App;
using Secondpass.Records;
using Secondpass.Tests.App;
using Secondpass.Tests.Records;

[assembly: AssemblyFixture(typeof(RunningWorkbench))]

namespace Secondpass.Tests.App;

/// <summary>A workbench in this process, with a data folder of its own.</summary>
public sealed class RunningWorkbench : IAsyncDisposable
{
    private readonly TemporaryFolder folder = new();
    private readonly WebApplication app;
    private bool noticeAccepted;

    public RunningWorkbench()
    {
        Store = ClinicStore.Open(folder.Path, TimeProvider.System).Value;
        app = Server.Start(new ServeOptions(Port: 0, Demo: true), Store).Value;
        Client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = new Uri(Server.Address(app)) };
    }

    /// <summary>Asks it; redirects are not followed.</summary>
    public HttpClient Client { get; }

    /// <summary>Its store.</summary>
    public ClinicStore Store { get; }

    /// <summary>The file of its database.</summary>
    public string Database => folder.Of("secondpass.db");

    /// <summary>How many film files are stored.</summary>
    public int StoredFilms => Directory.GetFiles(folder.Of("films"), "*", SearchOption.AllDirectories).Length;

    /// <summary>Posts a page's form as a browser does, after the notice of the first start was accepted.</summary>
    /// <param name="path">The page.</param>
    /// <param name="form">The form's name.</param>
    /// <param name="fields">Its fields.</param>
    public async Task<HttpResponseMessage> Post(string path, string form, params (string Name, string Value)[] fields)
    {
        await AcceptNotice();
        using var content = new MultipartFormDataContent();
        foreach (var (name, value) in fields.Prepend(("_handler", form)))
        {
            content.Add(new StringContent(value), $"\"{name}\"");
        }

        return await Client.PostAsync(path, content, TestContext.Current.CancellationToken);
    }

    /// <summary>A page's text, after the notice of the first start was accepted.</summary>
    public async Task<string> Read(string path)
    {
        await AcceptNotice();
        return WebUtility.HtmlDecode(await Client.GetStringAsync(path, TestContext.Current.CancellationToken));
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await app.DisposeAsync();
        Store.Dispose();
        folder.Dispose();
    }

    private async Task AcceptNotice()
    {
        if (!noticeAccepted)
        {
            await Client.PostAsync("/api/notice", null, TestContext.Current.CancellationToken);
            noticeAccepted = true;
        }
    }
}
