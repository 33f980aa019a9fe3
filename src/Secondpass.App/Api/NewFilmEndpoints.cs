using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;

namespace Secondpass.App.Api;

/// <summary>What the pages of new films ask beside their forms.</summary>
internal static class NewFilmEndpoints
{
    /// <summary>Maps the endpoints below <c>/api/new-films</c> and <c>/api/imports</c>.</summary>
    public static void MapNewFilms(this WebApplication app)
    {
        app.MapGet("/api/new-films/mark", (string? of, CaseRegister register, AttachNewFilm films) =>
        {
            DentalCase? it = null;
            return of is not null && !register.Read(of).TryGet(out it, out var refusal)
                ? Answers.Refused(refusal)
                : Answers.Given(new { films.Offered(it).Mark });
        });
        app.MapGet("/api/new-films/{sha256}/picture", (string sha256, AttachNewFilm films) =>
            Answers.From(films.Picture(sha256), picture => Results.Bytes(picture, "image/png")));
        app.MapGet("/api/imports/{id}/mark", (string id, ImportFilms imports) =>
            Answers.From(imports.Find(id), import => Answers.Given(new { Mark = ImportMark.Of(import.Now) })));
        app.MapGet("/api/imports/{id}/films/{place:int}/picture", (string id, int place, ImportFilms imports) =>
            Answers.From(imports.Find(id), import => Answers.From(import.Picture(place), picture => Results.Bytes(picture, "image/png"))));
    }
}

/// <summary>A word that changes when anything changes that the page of an import shows.</summary>
internal static class ImportMark
{
    /// <summary>The word.</summary>
    public static string Of(ImportNow import)
    {
        ArgumentNullException.ThrowIfNull(import);
        return FormattableString.Invariant($"{import.State} {import.Rows.Count} {import.Rows.Count(row => row.Outcome is not null)}");
    }
}
