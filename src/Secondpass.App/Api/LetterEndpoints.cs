using Secondpass.Job.Cases;
using Secondpass.Job.Finish;
using Secondpass.Job.Letters;
using Secondpass.Job.Plans;

namespace Secondpass.App.Api;

/// <summary>Letters and the plan as files, and what the finish note's page asks while irrigants are listed.</summary>
internal static class LetterEndpoints
{
    /// <summary>Maps the endpoints below <c>/api/cases/{id}/letters</c>, <c>/api/cases/{id}/letter-films</c>, <c>/api/cases/{id}/plan.pdf</c> and <c>/api/irrigants</c>.</summary>
    public static void MapLetters(this WebApplication app)
    {
        app.MapGet("/api/cases/{id}/letters/{number:int}.pdf", (string id, int number, WriteReply reply) => Letter(reply, id, number, asDocx: false));
        app.MapGet("/api/cases/{id}/letters/{number:int}.docx", (string id, int number, WriteReply reply) => Letter(reply, id, number, asDocx: true));
        app.MapGet("/api/cases/{id}/letter-films", ReadFilms);
        app.MapGet("/api/cases/{id}/plan.pdf", (string id, PlanPaper paper) =>
            Answers.From(paper.Of(id), pdf => Results.Bytes(pdf, "application/pdf")));
        app.MapGet("/api/irrigants", (string[]? name) => Answers.Given(ShownIrrigantWarning.For(name ?? [])));
    }

    // Answers when the films are read, so that the page that waits for them can come anew.
    private static async Task<IResult> ReadFilms(string id, CaseRegister cases, WriteReply reply, CancellationToken cancelled)
    {
        if (!cases.Read(id).TryGet(out var it, out var refusal))
        {
            return Answers.Refused(refusal);
        }

        await reply.ReadFilms(it).WaitAsync(cancelled);
        return Results.NoContent();
    }

    private static IResult Letter(WriteReply reply, string id, int number, bool asDocx) =>
        Answers.From(reply.File(id, number, asDocx), file => Results.Bytes(file.Bytes.ToArray(), file.MediaType, file.Name));
}
