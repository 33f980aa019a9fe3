using System.Text.Json;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Shown;

namespace Secondpass.App.Api;

/// <summary>What the pages of a case ask beside their forms.</summary>
internal static class CaseEndpoints
{
    /// <summary>Maps the endpoints below <c>/api/teeth</c> and <c>/api/cases</c>.</summary>
    public static void MapCases(this WebApplication app)
    {
        app.MapGet("/api/teeth", (string? text, NameTooth names) => Answers.From(names.Of(text)));
        app.MapGet("/api/cases/{id}/files/{sha256}", (string id, string sha256, CaseFiles files) =>
            Answers.From(files.Read(id, sha256), file => Results.Bytes(file.Bytes.ToArray(), file.MediaType)));
        app.MapGet("/api/cases/{id}/films", (string id, CompareForCase compare) =>
            Answers.From(compare.Films(id), films => Answers.Given(new ReopenedComparison(films.Before, films.After, JsonSerializer.Deserialize<JsonElement>(films.Marks)))));
        app.MapGet("/api/cases/{id}/measurements.json", (string id, ExportMeasurements export) =>
            Answers.From(export.Json(new CaseId(id)), json => Results.File(json, "application/json", "measurements.json")));
        app.MapGet("/api/cases/{id}/measurements.csv", (string id, ExportMeasurements export) =>
            Answers.From(export.Csv(new CaseId(id)), table => Results.File(table, "text/csv; charset=utf-8", "measurements.csv")));
        app.MapPost("/api/cases/{id}/films/{sha256}/draw", Draw);
        app.MapPost("/api/cases/{id}/comparisons/{kept}", (string id, string kept, HttpContext context, CompareForCase compare) =>
            Answers.From(compare.Attach(id, kept, ThisDesk.Writer(context)), it => Answers.Given(new { Version = it.Version })));
    }

    private static async Task<IResult> Draw(string id, string sha256, HttpRequest request, DrawOnFilm drawing) =>
        (await RequestBody.Bytes(request.Body, UploadLimits.LargestJsonBytes, request.HttpContext.RequestAborted)).TryGet(out var bytes, out var tooLarge)
            ? Answers.From(drawing.Measure(new CaseId(id), sha256, bytes), result => Answers.Given(ShownDrawing.Of(result)))
            : Answers.Refused(tooLarge);
}
