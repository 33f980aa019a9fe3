using System.Buffers;
using System.Runtime.InteropServices;
using System.Text.Json;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Net.Http.Headers;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Job.Shown;

namespace Secondpass.App.Api;

/// <summary>Films: taken in, shown, traced, thrown away.</summary>
internal static class FilmEndpoints
{
    /// <summary>Maps the endpoints below <c>/api/films</c>.</summary>
    public static void MapFilms(this WebApplication app)
    {
        var films = app.MapGroup("/api/films");
        films.MapPost("/", Receive);
        films.MapGet("/{id}", (string id, HttpRequest request, FilmShelf shelf, FilmsInUse inUse) =>
        {
            inUse.Take(id, AskingPage.Of(request));
            return Answers.From(shelf.Find(id), film => Answers.Given(ShownFilm.Of(film)));
        });
        films.MapGet("/{id}/pixels", (string id, FilmShelf shelf) => Answers.From(shelf.Find(id), film => Pixels(film.Pixels)));
        films.MapGet("/{id}/picture", (string id, FilmShelf shelf) => Answers.From(shelf.Find(id), film => Results.Bytes(ShownFilm.FirstLook(film), "image/jpeg")));
        films.MapPost("/{id}/trace", Trace);
        films.MapPut("/{id}/in-use", (string id, HttpRequest request, FilmsInUse inUse) =>
        {
            inUse.Take(id, AskingPage.Of(request));
            return Results.NoContent();
        });
        films.MapDelete("/{id}/in-use", (string id, HttpRequest request, FilmsInUse inUse) =>
        {
            inUse.LetGo(id, AskingPage.Of(request));
            return Results.NoContent();
        });
        films.MapDelete("/{id}", (string id, HttpRequest request, ReceiveFilm receive) =>
        {
            receive.ThrowAway(id, AskingPage.Of(request));
            return Results.NoContent();
        });
    }

    /// <summary>16-bit grey values, row by row from the top, low byte first.</summary>
    public static IResult Pixels(ReadOnlySpan<ushort> pixels)
    {
        var bytes = MemoryMarshal.AsBytes(pixels).ToArray();
        if (!BitConverter.IsLittleEndian)
        {
            for (var i = 0; i < bytes.Length; i += 2)
            {
                (bytes[i], bytes[i + 1]) = (bytes[i + 1], bytes[i]);
            }
        }

        return Results.Bytes(bytes, "application/octet-stream");
    }

    private static async Task<IResult> Receive(HttpRequest request, ReceiveFilm receive)
    {
        var cancelled = request.HttpContext.RequestAborted;
        var page = AskingPage.Of(request);
        if (MediaTypeHeaderValue.TryParse(request.ContentType, out var type)
            && type.MediaType.Equals("multipart/form-data", StringComparison.OrdinalIgnoreCase)
            && HeaderUtilities.RemoveQuotes(type.Boundary).Value is { } boundary)
        {
            var answers = new List<ReceivedFilm>();
            var reader = new MultipartReader(boundary, request.Body);
            while (await reader.ReadNextSectionAsync(cancelled) is { } section)
            {
                var name = section.GetContentDispositionHeader()?.FileName.Value ?? string.Empty;
                answers.Add(ReceivedFilm.Of(name, await ReceiveOne(section.Body, receive, page, cancelled)));
            }

            return Answers.Given(new ReceivedFilms(answers));
        }

        return Answers.From(await ReceiveOne(request.Body, receive, page, cancelled), film => Answers.Given(ShownFilm.Of(film)));
    }

    private static async Task<Answer<Radiograph>> ReceiveOne(Stream body, ReceiveFilm receive, string? page, CancellationToken cancelled) =>
        (await RequestBody.Bytes(body, UploadLimits.LargestFilmBytes, cancelled)).TryGet(out var bytes, out var tooLarge)
            ? receive.Receive(bytes, page)
            : tooLarge;

    private static async Task<IResult> Trace(string id, HttpRequest request, FilmShelf shelf)
    {
        if (!(await RequestBody.Json(request)).TryGet(out var json, out var refusal))
        {
            return Answers.Refused(refusal, StatusCodes.Status400BadRequest);
        }

        using (json)
        {
            if (!shelf.Find(id).TryGet(out var film, out refusal)
                || !CaseReader.Read(CaseOf(json)).TryGet(out var marked, out refusal)
                || !MeasureCanals.Measure(film, marked).TryGet(out var measured, out refusal))
            {
                return Answers.Refused(refusal);
            }

            return Answers.Given(TracedCanal.Of(measured));
        }
    }

    // One canal, those traced on the film before it, and a scale, as a case: so that marks are read and checked in one place only.
    private static ReadOnlyMemory<byte> CaseOf(JsonDocument request)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using var json = new Utf8JsonWriter(buffer);
        json.WriteStartObject();
        json.WriteNumber("schema", 1);
        json.WriteNull("tooth");
        json.WritePropertyName("pixel_spacing_mm");
        Member("scale");
        json.WritePropertyName("known_length");
        Member("known_length");
        json.WriteStartArray("canals");
        Member("clicks");
        if (request.RootElement.TryGetProperty("beside", out var beside) && beside.ValueKind == JsonValueKind.Array)
        {
            foreach (var canal in beside.EnumerateArray())
            {
                canal.WriteTo(json);
            }
        }

        json.WriteEndArray();
        json.WriteEndObject();
        json.Flush();
        return buffer.WrittenMemory;

        void Member(string name)
        {
            if (request.RootElement.TryGetProperty(name, out var member))
            {
                member.WriteTo(json);
            }
            else
            {
                json.WriteNullValue();
            }
        }
    }
}

/// <summary>What became of the files of one request, in their order.</summary>
internal sealed record ReceivedFilms(IReadOnlyList<ReceivedFilm> Films);

/// <summary>What became of one file: a film or a refusal.</summary>
internal sealed record ReceivedFilm(string Name, ShownFilm? Film, RefusedDocument? Refused)
{
    public static ReceivedFilm Of(string name, Answer<Radiograph> answer) => answer.TryGet(out var film, out var refusal)
        ? new ReceivedFilm(name, ShownFilm.Of(film), null)
        : new ReceivedFilm(name, null, RefusalDocument.From(refusal).Refusal);
}
