using System.Text;
using System.Text.Json;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Pictures;
using Secondpass.Exchange.Wording;
using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Records;

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
            Answers.From(undecided.Find(id), one => Results.Bytes(one.Films.Comparison.Picture.Residue, "application/octet-stream")));
        comparisons.MapGet("/{id}/case.json", (string id, UndecidedComparisons undecided) =>
            Answers.From(undecided.Find(id), one => Results.Text(one.CaseDocument, "application/json", Encoding.UTF8)));
        comparisons.MapGet("/{id}/sheet.pdf", (string id, KeepComparison keep) =>
            Answers.From(keep.Sheet(id), Sheet));
        comparisons.MapPost("/{id}/keep", Keep);
        comparisons.MapDelete("/{id}", (string id, KeepComparison keep) =>
        {
            keep.ThrowAway(id);
            return Results.NoContent();
        });

        var kept = app.MapGroup("/api/kept");
        kept.MapGet("/{id}", (string id, ClinicStore store) => store.FindComparison(id) is { } found
            ? Answers.Given(new ReopenedComparison(found.BeforeSha256, found.AfterSha256, JsonSerializer.Deserialize<JsonElement>(found.CaseDocument)))
            : Answers.Refused(NotKept));
        kept.MapGet("/{id}/sheet.pdf", (string id, ClinicStore store) => store.FindComparison(id) is { } found
            ? Answers.From(store.ReadSheet(found), Sheet)
            : Answers.Refused(NotKept));
        kept.MapPost("/{id}/remove", (string id, ClinicStore store) =>
            Answers.From(store.RemoveComparison(id), _ => Results.Redirect("/what-is-left/kept")));
    }

    private static Refusal NotKept { get; } = new(
        "comparison_not_here",
        "No comparison is kept under this address.",
        "Look it up in the list of kept comparisons.");

    private static IResult Sheet(byte[] pdf) => Results.Bytes(pdf, "application/pdf", "what-is-left.pdf");

    private static async Task<IResult> Compare(HttpRequest request, FilmShelf shelf, UndecidedComparisons undecided)
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
                || !CompareFilms.Compare(before, after, marked).TryGet(out var compared, out refusal))
            {
                return Answers.Refused(refusal);
            }

            var one = new UndecidedComparison(Identity.New(), compared, marked.Tooth, text);
            undecided.Add(one);
            return Answers.Given(ShownComparison.Of(one));
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
internal sealed record ReopenedComparison(string Before, string After, JsonElement Case);

/// <summary>A comparison as the page shows it.</summary>
/// <param name="Id">Its identity while it is undecided.</param>
/// <param name="Document">The same as the command writes it.</param>
/// <param name="Branches">Each branch in words, parents before children.</param>
/// <param name="Legend">What the strips' lines mean, as SVG.</param>
/// <param name="ScaleWords">The scale in words.</param>
/// <param name="StateWords">What stands in the canals on the film after, in words.</param>
internal sealed record ShownComparison(
    string Id,
    CompareDocument Document,
    IReadOnlyList<ShownBranch> Branches,
    string Legend,
    string ScaleWords,
    string StateWords)
{
    public static ShownComparison Of(UndecidedComparison one)
    {
        var (request, comparison, document) = one.Films;
        var strips = CanalStrip.DrawAll(comparison.Branches, request.BeforeScale);
        return new ShownComparison(
            one.Id,
            document,
            [.. comparison.Branches.Select((branch, index) => ShownBranch.Of(branch, request.BeforeScale, strips[index]))],
            SvgPainter.Paint(CanalStrip.Legend()),
            FilmWords.Scale(request.BeforeScale),
            FilmWords.State(request.State));
    }
}

/// <summary>One branch in words.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Headline">What is left, in one line with the name.</param>
/// <param name="Kind">left, none_visible or refused.</param>
/// <param name="Remedy">What to do when it is refused; else null.</param>
/// <param name="Mass">Mass left: coronal, middle, apical, whole.</param>
/// <param name="Area">Area left: coronal, middle, apical, whole.</param>
/// <param name="SmallestPatch">The smallest patch that these films could show.</param>
/// <param name="Strip">The canal strip, as SVG.</param>
internal sealed record ShownBranch(
    string Name,
    string Headline,
    string Kind,
    string? Remedy,
    IReadOnlyList<string> Mass,
    IReadOnlyList<string> Area,
    string SmallestPatch,
    string Strip)
{
    public static ShownBranch Of(BranchResidue branch, Calibration? scale, Picture strip)
    {
        CanalThird[] thirds = [CanalThird.Coronal, CanalThird.Middle, CanalThird.Apical];
        return new ShownBranch(
            branch.Branch.Name,
            ResidueWords.Headline(branch, scale),
            branch.Refused is not null ? "refused" : ResidueWords.IsNoneVisible(branch) ? "none_visible" : "left",
            branch.Refused?.Remedy,
            [.. thirds.Select(third => ResidueWords.Mass(branch, third)), ResidueWords.Mass(branch)],
            [.. thirds.Select(third => ResidueWords.AreaShare(branch, third)), ResidueWords.AreaShare(branch)],
            ResidueWords.SmallestPatch(branch, scale),
            SvgPainter.Paint(strip));
    }
}
