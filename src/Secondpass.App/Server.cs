using System.Globalization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Secondpass.App.Api;
using Secondpass.App.Pages;
using Secondpass.Domain;
using Secondpass.Job;
using Secondpass.Job.Cases;
using Secondpass.Job.Chairside;
using Secondpass.Job.Finish;
using Secondpass.Job.Incoming;
using Secondpass.Job.Instruments;
using Secondpass.Job.Letters;
using Secondpass.Job.Meaning;
using Secondpass.Job.Plans;
using Secondpass.Records;

namespace Secondpass.App;

/// <summary>The workbench: pages and endpoints for this computer only.</summary>
public static class Server
{
    private const int PreferredPort = 5180;
    private const int Tries = 20;

    /// <summary>Serves until the process is told to stop.</summary>
    /// <param name="options">How it is started.</param>
    /// <returns>0 when it was stopped; 3 when it couldn't start, with the reason on the error output.</returns>
    public static int Run(ServeOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        var folder = options.DataFolder ?? DataFolders.OfThisUser(options.Demo);
        if (!ClinicStore.Open(folder, TimeProvider.System, options.StoreAddress).TryGet(out var store, out var refusal))
        {
            return Fail(refusal);
        }

        using (store)
        {
            if (!Start(options, store).TryGet(out var app, out refusal))
            {
                return Fail(refusal);
            }

            Console.WriteLine($"Secondpass is at {Address(app)}");
            Console.WriteLine($"Data folder: {store.Folder}");
            Console.WriteLine("Press Ctrl+C to stop.");
            var filled = options.Demo ? app.Services.GetRequiredService<InventedClinic>().Fill(options.StoreAddress, app.Lifetime.ApplicationStopping) : Task.CompletedTask;
            app.WaitForShutdown();
            filled.GetAwaiter().GetResult();
            app.DisposeAsync().AsTask().GetAwaiter().GetResult();
            return 0;
        }
    }

    /// <summary>Starts the workbench and returns when it answers.</summary>
    /// <param name="options">How it is started; the store is already open.</param>
    /// <param name="store">The store.</param>
    /// <returns>The running workbench, which the caller stops; or the refusal when its port is taken.</returns>
    internal static Answer<WebApplication> Start(ServeOptions options, ClinicStore store)
    {
        for (var tried = 0; ; tried++)
        {
            var port = options.Port switch
            {
                null => PreferredPort + tried,
                0 => Ports.AnyFree(),
                { } wanted => wanted,
            };
            var app = Build(options, store, port);
            try
            {
                if (!Ports.IsFree(port))
                {
                    throw new IOException("The port is taken.");
                }

                app.Start();
                return app;
            }
            catch (IOException)
            {
                app.DisposeAsync().AsTask().GetAwaiter().GetResult();
                if (options.Port is > 0 || tried >= Tries)
                {
                    return new Refusal(
                        "port_taken",
                        string.Create(CultureInfo.InvariantCulture, $"Port {port} is taken by another program."),
                        "Start with another --port, or with --port 0 for any free one.");
                }
            }
        }
    }

    /// <summary>The address that a person types.</summary>
    internal static string Address(WebApplication app) => app.Urls.First().Replace("127.0.0.1", "localhost", StringComparison.Ordinal);

    private static WebApplication Build(ServeOptions options, ClinicStore store, int port)
    {
        // Named and rooted here, so that it runs from any folder, from build and from publish output, and from a test.
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(Server).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
            EnvironmentName = Environments.Production,
        });
        builder.Configuration.Sources.Clear();
        builder.WebHost.UseStaticWebAssets();
        builder.Logging.ClearProviders().SetMinimumLevel(LogLevel.Warning).AddConsole(console => console.LogToStandardErrorThreshold = LogLevel.Trace);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = UploadLimits.LargestRequestBytes;
            kestrel.ListenLocalhost(port, listen => listen.Protocols = HttpProtocols.Http1);
        });

        builder.Services.AddSingleton(TimeProvider.System);
        builder.Services.AddSingleton(store);
        builder.Services.AddSingleton<ClinicData>();
        builder.Services.AddSingleton<KeptResults>();
        builder.Services.AddSingleton(new FilmShelf(store));
        builder.Services.AddSingleton(new UndecidedComparisons());
        builder.Services.AddSingleton<FilmsInUse>();
        builder.Services.AddSingleton<ReceiveFilm>();
        builder.Services.AddSingleton<KeepComparison>();
        builder.Services.AddSingleton<FilmsFolder>();
        builder.Services.AddSingleton<WatchFolder>();
        builder.Services.AddSingleton<AttachNewFilm>();
        builder.Services.AddSingleton<ImportFilms>();
        builder.Services.AddSingleton<ClinicHabits>();
        builder.Services.AddSingleton<CaseRegister>();
        builder.Services.AddSingleton<ReceivePaper>();
        builder.Services.AddSingleton<OpenCase>();
        builder.Services.AddSingleton<CorrectCase>();
        builder.Services.AddSingleton<AssessTooth>();
        builder.Services.AddSingleton<AttachFilm>();
        builder.Services.AddSingleton<NoteCanals>();
        builder.Services.AddSingleton<MeasureForCase>();
        builder.Services.AddSingleton<DateFilm>();
        builder.Services.AddSingleton<DrawOnFilm>();
        builder.Services.AddSingleton<CalibrateFilm>();
        builder.Services.AddSingleton<StraightenFilm>();
        builder.Services.AddSingleton<ExportMeasurements>();
        builder.Services.AddSingleton<CompareForCase>();
        builder.Services.AddSingleton<ReadScan>();
        builder.Services.AddSingleton<NoteLength>();
        builder.Services.AddSingleton<NameTooth>();
        builder.Services.AddSingleton<CaseFiles>();
        builder.Services.AddSingleton<LogChairside>();
        builder.Services.AddSingleton<FinishVisit>();
        builder.Services.AddSingleton<Letterhead>();
        builder.Services.AddSingleton<FilmsOfLetters>();
        builder.Services.AddSingleton<WriteReply>();
        builder.Services.AddSingleton<KeepInstruments>();
        builder.Services.AddSingleton<PlanForCase>();
        builder.Services.AddSingleton<PassTrays>();
        builder.Services.AddSingleton<PlanPaper>();
        builder.Services.AddSingleton(options.Demo ? DemoExamples.Find() : DemoExamples.None);
        builder.Services.AddHostedService<UndecidedFilmsRemover>();
        builder.Services.AddHostedService<NewFilmWatcher>();
        builder.Services.AddSingleton<InventedClinic>();
        builder.Services.AddRazorComponents(pages => pages.MaxFormMappingCollectionSize = UploadLimits.MostFormFields);

        // A file that comes with a form may be a patient's: it stays in memory and goes into no temporary file.
        builder.Services.Configure<FormOptions>(forms =>
        {
            forms.ValueCountLimit = UploadLimits.MostFormFields;
            forms.MemoryBufferThreshold = UploadLimits.LargestRequestBytes;
            forms.MultipartBodyLengthLimit = UploadLimits.LargestRequestBytes;
        });

        // Nothing is signed for later: keys are made for this run and written nowhere.
        builder.Services.AddDataProtection().UseEphemeralDataProtectionProvider();

        var app = builder.Build();
        app.UseMiddleware<FailuresAsAnswers>();
        app.UseMiddleware<LocalOnly>(port);
        app.UseStatusCodePagesWithReExecute("/not-found");
        app.UseMiddleware<WrongMethods>();
        app.MapStaticAssets();
        app.MapFilms();
        app.MapComparisons();
        app.MapExamples();
        app.MapSettings();
        app.MapCases();
        app.MapLetters();
        app.MapNewFilms();
        app.MapGet("/", () => Results.Redirect("/what-is-left"));
        app.MapRazorComponents<Document>().DisableAntiforgery().PostedToOnlyWithForms();
        return app;
    }

    private static int Fail(Refusal refusal)
    {
        Console.Error.WriteLine(refusal.Reason);
        Console.Error.WriteLine(refusal.Remedy);
        return 3;
    }
}
