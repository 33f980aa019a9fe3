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

    /// <summary>How many film files are stored.</summary>
    public int StoredFilms => Directory.GetFiles(folder.Of("films"), "*", SearchOption.AllDirectories).Length;

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await app.DisposeAsync();
        Store.Dispose();
        folder.Dispose();
    }
}
