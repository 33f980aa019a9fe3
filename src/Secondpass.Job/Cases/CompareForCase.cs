using System.Text.Json;
using System.Text.Json.Nodes;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Job.Documents;
using Secondpass.Radiographs.Identify;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>The films of a case that are compared, with the marks that were set on the one before.</summary>
/// <param name="Before">The film from before treatment on which canals are marked, the last of several; the first one where none is marked; null when there is none.</param>
/// <param name="After">The last film from during or after treatment; null when there is none.</param>
/// <param name="Marks">Tooth, scale and marks as the JSON document of the command line.</param>
public sealed record FilmsToCompare(string? Before, string? After, string Marks);

/// <summary>What is left, for a case: its films go in, and what was kept belongs to it.</summary>
/// <param name="store">Where it is kept.</param>
public sealed class CompareForCase(ClinicStore store)
{
    /// <summary>The films of a case to compare.</summary>
    /// <returns>Films and marks; or a refusal: there is no such case.</returns>
    public Answer<FilmsToCompare> Films(string id)
    {
        if (!store.Cases.Read(new CaseId(id)).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        var taken = it.Films.Where(film => film.Moment == FilmMoment.Before).Select(film => film.Sha256).ToArray();
        var before = taken.LastOrDefault(film => it.Measured.Any(measured => measured.FilmSha256 == film)) ?? taken.FirstOrDefault();
        var marks = it.Measured.FirstOrDefault(measured => measured.FilmSha256 == before)?.CaseDocument
            ?? JsonSerializer.Serialize(new { schema = 1, tooth = it.Tooth.ToString(), canals = Array.Empty<object>() });
        return new FilmsToCompare(
            before,
            it.Films.LastOrDefault(film => film.Moment is FilmMoment.During or FilmMoment.After)?.Sha256,
            before is not null && it.KnownLengths.GetValueOrDefault(before) is { } known ? WithKnownLength(marks, known) : marks);
    }

    /// <summary>Adds a kept comparison, and those of its films that are not there yet, to a case.</summary>
    /// <param name="id">The case.</param>
    /// <param name="keptId">The comparison.</param>
    /// <param name="by">Who adds it.</param>
    /// <returns>The case; or a refusal: no such case or comparison, one of another tooth, a film that speaks of another patient or tooth, disk full.</returns>
    public Answer<DentalCase> Attach(string id, string keptId, Writer by)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (!store.Cases.Read(new CaseId(id)).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        if (store.FindComparison(keptId) is not { } kept)
        {
            return new Refusal("comparison_not_here", "No comparison is kept under this address.", "Look it up in the list of kept comparisons.");
        }

        var document = DocumentJson.Read<CaseDocument>(kept.CaseDocument);
        if (ToothNumber.Parse(document.Tooth).TryGet(out var tooth, out _) && tooth != it.Tooth)
        {
            return new Refusal(
                "comparison_of_another_tooth",
                $"The comparison is of the {tooth.Words}, {tooth}; the case is the {it.Tooth.Words}, {it.Tooth}. It was kept, and not added to the case.",
                "Set the tooth right on the page, and keep it again.");
        }

        var moment = document.AfterState == "refilled" ? FilmMoment.After : FilmMoment.During;
        var attached = new List<CaseEvent>();
        foreach (var (sha256, taken) in new[] { (kept.BeforeSha256, FilmMoment.Before), (kept.AfterSha256, moment) })
        {
            if (it.Films.All(film => film.Sha256 != sha256) && attached.Cast<FilmAttached>().All(film => film.Film.Sha256 != sha256))
            {
                if (!New(it, sha256, taken).TryGet(out var film, out refusal))
                {
                    return refusal;
                }

                attached.Add(film);
            }
        }

        var result = new CaseComparison(kept.BeforeSha256, kept.AfterSha256, kept.CaseDocument, kept.ComparisonDocument, kept.SheetSha256);
        return it.Comparisons.Contains(result)
            ? it
            : store.Cases.Append(it.Id, it.Version, by.Author, [.. attached, new ComparisonAttached(result)]);
    }

    // As where canals are measured: the case's known length goes before a pixel size typed beside the marks.
    private static string WithKnownLength(string marks, KnownLength known)
    {
        var document = JsonNode.Parse(marks)!.AsObject();
        document["pixel_spacing_mm"] = null;
        document["known_length"] = JsonSerializer.SerializeToNode(KnownLengthDocument.Of(known), DocumentJson.Options);
        return document.ToJsonString();
    }

    // A film that belongs to no case yet is held against this one, as on the case's own page; there it can be said why it belongs to it.
    private Answer<FilmAttached> New(DentalCase it, string sha256, FilmMoment taken)
    {
        if (!store.ReadFilm(sha256).TryGet(out var bytes, out var refusal))
        {
            return refusal;
        }

        var stated = IdentityReader.Read(bytes);
        var differences = FilmsOfCase.Compare(it, stated);
        if (differences.MustBeConfirmed)
        {
            return new Refusal(
                FilmsOfCase.OfAnother,
                $"The comparison was kept, and not added to the case. {string.Join(" ", differences.Sentences)}",
                "If the film belongs to this case all the same, attach it under Films and photographs of the case, where you can say why, and keep the result again.");
        }

        var film = new CaseFilm(sha256, taken, TubeShift.Straight, null);
        return new FilmAttached(stated.NamesPatient || stated.Teeth.Count > 0
            ? film with { Origin = new FilmOrigin(taken == FilmMoment.Before ? "film before" : "film after", stated, differences.Sentences, differences.ConfirmedBefore) }
            : film);
    }
}
