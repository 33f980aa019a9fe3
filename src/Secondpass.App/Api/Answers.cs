using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using Secondpass.Domain;
using Secondpass.Job.Documents;

namespace Secondpass.App.Api;

/// <summary>How endpoints answer: JSON with small letters and underscores, and refusals with the status that fits them.</summary>
internal static class Answers
{
    private static readonly JsonSerializerOptions Json = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    private static readonly Dictionary<string, int> Status = new()
    {
        ["film_not_here"] = StatusCodes.Status404NotFound,
        ["comparison_not_here"] = StatusCodes.Status404NotFound,
        ["example_not_here"] = StatusCodes.Status404NotFound,
        ["plan_not_here"] = StatusCodes.Status404NotFound,
        ["letter_not_here"] = StatusCodes.Status404NotFound,
        ["film_too_large"] = StatusCodes.Status413PayloadTooLarge,
        ["case_too_large"] = StatusCodes.Status413PayloadTooLarge,
        ["changed_meanwhile"] = StatusCodes.Status409Conflict,
        ["disk_full"] = StatusCodes.Status507InsufficientStorage,
        ["store_busy"] = StatusCodes.Status503ServiceUnavailable,
        ["store_not_reached"] = StatusCodes.Status503ServiceUnavailable,
    };

    /// <summary>A value as JSON.</summary>
    public static IResult Given<T>(T value) => Results.Json(value, Json);

    /// <summary>The value as JSON, or the refusal.</summary>
    public static IResult From<T>(Answer<T> answer)
        where T : notnull => From(answer, value => Given(value));

    /// <summary>What is made of the value, or the refusal.</summary>
    public static IResult From<T>(Answer<T> answer, Func<T, IResult> make)
        where T : notnull => answer.TryGet(out var value, out var refusal) ? make(value) : Refused(refusal);

    /// <summary>A refusal as JSON {code, reason, remedy, evidence}, with the status that fits it.</summary>
    public static IResult Refused(Refusal refusal) =>
        Refused(refusal, Status.GetValueOrDefault(refusal.Code, StatusCodes.Status422UnprocessableEntity));

    /// <summary>A refusal with a status.</summary>
    public static IResult Refused(Refusal refusal, int status) =>
        Results.Json(RefusalDocument.From(refusal).Refusal, Json, statusCode: status);

    /// <summary>The refusal of a file or request that is too large.</summary>
    public static Refusal TooLarge(int largestBytes) => new(
        "film_too_large",
        string.Create(CultureInfo.InvariantCulture, $"The file is larger than {largestBytes >> 20} MB, the most that is taken in."),
        "Export the film alone, as one image; an uncompressed intra-oral film has a few MB.");
}
