namespace Secondpass.App.Api;

/// <summary>A form as a browser sent it, to be sent again.</summary>
/// <param name="Fields">Its fields by name.</param>
/// <param name="Files">The names of the files that came with it, by field.</param>
public sealed record SentForm(IReadOnlyList<(string Name, string Value)> Fields, IReadOnlyList<(string Field, string FileName)> Files)
{
    // What the pages themselves put into their forms.
    private static readonly string[] OfThePage = ["_handler", ".Version", ".Key", ".Act", ".Kind", ".Question", ".Marks"];

    /// <summary>What a person typed or chose, as far as it can be told.</summary>
    public IEnumerable<string> Typed => Fields
        .Where(one => one.Value.Trim().Length > 1 && one.Value is not ("true" or "false") && !OfThePage.Any(end => one.Name.EndsWith(end, StringComparison.Ordinal)))
        .Select(one => one.Value);

    /// <summary>Reads the form of a request.</summary>
    /// <returns>The form; null when the request has none that can be read.</returns>
    public static async Task<SentForm?> Of(HttpRequest request)
    {
        if (!HttpMethods.IsPost(request.Method) || !request.HasFormContentType)
        {
            return null;
        }

        try
        {
            var form = await request.ReadFormAsync(request.HttpContext.RequestAborted);
            return new SentForm(
                [.. form.SelectMany(field => field.Value.Select(value => (field.Key, value ?? string.Empty)))],
                [.. form.Files.Where(file => file.FileName.Length > 0).Select(file => (file.Name, file.FileName))]);
        }
        catch (Exception failure) when (failure is BadHttpRequestException or InvalidDataException or IOException)
        {
            return null;
        }
    }
}
