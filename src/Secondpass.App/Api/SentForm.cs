using System.Globalization;
using System.Text.RegularExpressions;

namespace Secondpass.App.Api;

/// <summary>A form as a browser sent it, to be sent again.</summary>
/// <param name="Fields">Its fields by name.</param>
/// <param name="Files">The names of the files that came with it, by field.</param>
public sealed partial record SentForm(IReadOnlyList<(string Name, string Value)> Fields, IReadOnlyList<(string Field, string FileName)> Files)
{
    // What the pages themselves put into their forms.
    private static readonly string[] OfThePage = ["_handler", ".Version", ".Key", ".Act", ".Kind", "].Question", ".Marks", ".Film"];

    /// <summary>What a person typed or chose, as far as it can be told, each with the words of its field.</summary>
    public IEnumerable<(string Field, string Text)> Typed => Fields
        .Where(one => one.Value.Trim().Length > 1 && one.Value is not ("true" or "false") && !OfThePage.Any(end => one.Name.EndsWith(end, StringComparison.Ordinal)))
        .Select(one => (InWords(one.Name), one.Value.Trim()));

    /// <summary>The words in a field's name, such as "Steps 2, note" for "Form.Steps[1].Note".</summary>
    /// <param name="name">The name by which the page sends it.</param>
    public static string InWords(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var counted = Place().Replace(name, place => string.Create(CultureInfo.InvariantCulture, $" {int.Parse(place.ValueSpan[1..^1], CultureInfo.InvariantCulture) + 1}"));
        var parts = counted.Split('.');
        var words = Capital().Replace(string.Join(", ", parts.Skip(parts.Length > 1 ? 1 : 0)), capital => " " + capital.Value.ToLowerInvariant());
        return words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..].Replace(",  ", ", ", StringComparison.Ordinal);
    }

    [GeneratedRegex(@"\[\d{1,6}\]")]
    private static partial Regex Place();

    [GeneratedRegex("(?<!^)[A-Z]")]
    private static partial Regex Capital();

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
