using System.Text;
using System.Text.Json;
using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Job.Meaning;
using Secondpass.Job.Shown;

namespace Secondpass.App.Api;

/// <summary>Comparisons: made, shown, kept, thrown away.</summary>
internal static class ComparisonEndpoints
{
    /// <summary>Maps the endpoints below <c>/api/comparisons</c> and <c>/api/kept</c>.</summary>
    public static void MapComparisons(this WebApplication app)
    {
        var comparisons = app.MapGroup("/api/comparisons");
        comparisons.MapPost("/", Compare);
        comparisons.MapGet("/{id}", (string id, UndecidedComparisons undecided) =>
            Answers.From(undecided.Find(id), one => Answers.Given(ShownComparison.Of(one))));
        comparisons.MapGet("/{id}/aligned", (string id, UndecidedComparisons undecided) =>
            Answers.From(undecided.Find(id), one => FilmEndpoints.Pixels(one.Films.Comparison.Picture.AlignedAfter)));
        comparisons.MapGet("/{id}/residue", (string id, UndecidedComparisons undecided) =>
            Answers.From(undecided.Find(id), one => Results.Bytes(one.Films.ResidueMap(), "application/octet-stream")));
        comparisons.MapGet("/{id}/case.json", (string id, UndecidedComparisons undecided) =>
            Answers.From(undecided.Find(id), one => Results.Text(one.CaseDocument, "application/json", Encoding.UTF8)));
        comparisons.MapGet("/{id}/sheet.pdf", (string id, KeepComparison keep) =>
            Answers.From(keep.Sheet(id), Sheet));
        comparisons.MapPost("/{id}/keep", Keep);
        comparisons.MapDelete("/{id}", (string id, HttpRequest request, KeepComparison keep) =>
        {
            keep.ThrowAway(id, AskingPage.Of(request));
            return Results.NoContent();
        });

        var kept = app.MapGroup("/api/kept");
        kept.MapGet("/{id}", (string id, KeptResults results) =>
            Answers.From(results.Find(id), found => Answers.Given(new ReopenedComparison(found.BeforeSha256, found.AfterSha256, JsonSerializer.Deserialize<JsonElement>(found.CaseText)))));
        kept.MapGet("/{id}/sheet.pdf", (string id, KeptResults results) =>
            Answers.From(results.Sheet(id), Sheet));
        kept.MapPost("/{id}/remove", (string id, KeptResults results) =>
            Answers.From(results.Remove(id), _ => Results.Redirect("/what-is-left/kept")));
    }

    private static IResult Sheet(byte[] pdf) => Results.Bytes(pdf, "application/pdf", "what-is-left.pdf");

    private static async Task<IResult> Compare(HttpRequest request, FilmShelf shelf, UndecidedComparisons undecided, PassTrays trays)
    {
        if (!(await RequestBody.Json(request)).TryGet(out var json, out var refusal))
        {
            return Answers.Refused(refusal, StatusCodes.Status400BadRequest);
        }

        using (json)
        {
            var text = json.RootElement.TryGetProperty("case", out var member) ? member.GetRawText() : "{}";
            if (!shelf.Find(json.Text("before") ?? string.Empty).TryGet(out var before, out refusal)
                || !shelf.Find(json.Text("after") ?? string.Empty).TryGet(out var after, out refusal)
                || !CaseReader.Read(Encoding.UTF8.GetBytes(text)).TryGet(out var marked, out refusal)
                || !CompareFilms.Compare(before, after, marked, trays.Of(json.Text("of_case"), marked)).TryGet(out var compared, out refusal))
            {
                return Answers.Refused(refusal);
            }

            return Answers.Given(ShownComparison.Of(undecided.Hold(compared, marked.Tooth, text)));
        }
    }

    private static async Task<IResult> Keep(string id, HttpRequest request, KeepComparison keep)
    {
        if (!(await RequestBody.Json(request)).TryGet(out var json, out var refusal))
        {
            return Answers.Refused(refusal, StatusCodes.Status400BadRequest);
        }

        using (json)
        {
            return Answers.From(keep.Keep(id, json.Text("label")), kept => Answers.Given(new { kept.Id, kept.Label }));
        }
    }
}

/// <summary>What a kept comparison was made from, to look at it again.</summary>
internal sealed record ReopenedComparison(string? Before, string? After, JsonElement Case);
