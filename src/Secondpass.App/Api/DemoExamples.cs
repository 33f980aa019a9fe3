using System.Text.Json;
using Secondpass.Domain;
using Secondpass.Job;

namespace Secondpass.App.Api;

/// <summary>The invented examples: each a folder with a film before, a film after and a case file.</summary>
/// <param name="Folders">The folders, by name.</param>
internal sealed record DemoExamples(IReadOnlyDictionary<string, string> Folders)
{
    /// <summary>No examples.</summary>
    public static DemoExamples None { get; } = new(new Dictionary<string, string>());

    private static readonly string Root = Path.Combine(AppContext.BaseDirectory, "demo");

    /// <summary>The folder of the invented clinic beside the program.</summary>
    public static string ClinicFolder { get; } = Path.Combine(Root, "clinic");

    /// <summary>The examples that lie beside the program.</summary>
    public static DemoExamples Find()
    {
        return !Directory.Exists(Root)
            ? None
            : new DemoExamples(Directory.EnumerateDirectories(Root)
                .Where(folder => File.Exists(CaseOf(folder)) && FilmOf(folder, "before") is not null && FilmOf(folder, "after") is not null)
                .OrderBy(folder => folder, StringComparer.Ordinal)
                .ToDictionary(folder => Path.GetFileName(folder)!));
    }

    /// <summary>An example's name as it is shown: its folder's, with spaces.</summary>
    public static string Title(string name) => string.Concat(name[..1].ToUpperInvariant(), name[1..].Replace('-', ' '));

    /// <summary>Takes an example's films in, like a user's.</summary>
    /// <param name="name">Which example.</param>
    /// <param name="receive">Takes films in.</param>
    /// <param name="page">The page that shows them from now on; null where none does.</param>
    /// <returns>What the page opens; or a refusal.</returns>
    public Answer<ReopenedComparison> Open(string name, ReceiveFilm receive, string? page)
    {
        if (!Folders.TryGetValue(name, out var folder))
        {
            return new Refusal("example_not_here", $"There is no example “{name}”.", "Choose one from the list.");
        }

        return receive.Receive(File.ReadAllBytes(FilmOf(folder, "before")!), page).TryGet(out var before, out var refusal)
            && receive.Receive(File.ReadAllBytes(FilmOf(folder, "after")!), page).TryGet(out var after, out refusal)
                ? new ReopenedComparison(before.Sha256, after.Sha256, JsonSerializer.Deserialize<JsonElement>(File.ReadAllBytes(CaseOf(folder))))
                : refusal;
    }

    private static string CaseOf(string folder) => Path.Combine(folder, "case.json");

    private static string? FilmOf(string folder, string name) =>
        Directory.EnumerateFiles(folder, name + ".*").Order(StringComparer.Ordinal).FirstOrDefault();
}

/// <summary>Opens the invented examples.</summary>
internal static class ExampleEndpoints
{
    /// <summary>Maps the endpoints below <c>/api/examples</c>.</summary>
    public static void MapExamples(this WebApplication app) =>
        app.MapPost("/api/examples/{name}", (string name, HttpRequest request, DemoExamples examples, ReceiveFilm receive) =>
            Answers.From(examples.Open(name, receive, AskingPage.Of(request))));
}
