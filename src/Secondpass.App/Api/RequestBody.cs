using System.Text.Json;
using Secondpass.Domain;

namespace Secondpass.App.Api;

/// <summary>Reads a request's body into memory, never into a temporary file: it may be a patient's.</summary>
internal static class RequestBody
{
    /// <summary>All bytes of a stream.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="largestBytes">The most that is read.</param>
    /// <param name="cancelled">Set when the page no longer waits.</param>
    /// <returns>The bytes, or the refusal of a larger stream.</returns>
    public static async Task<Answer<ReadOnlyMemory<byte>>> Bytes(Stream stream, int largestBytes, CancellationToken cancelled)
    {
        using var memory = new MemoryStream();
        var buffer = new byte[1 << 16];
        int count;
        while ((count = await stream.ReadAsync(buffer, cancelled)) > 0)
        {
            if (memory.Length + count > largestBytes)
            {
                return Answers.TooLarge(largestBytes);
            }

            await memory.WriteAsync(buffer.AsMemory(0, count), cancelled);
        }

        return new ReadOnlyMemory<byte>(memory.GetBuffer(), 0, (int)memory.Length);
    }

    /// <summary>The body as JSON; the caller disposes it.</summary>
    /// <returns>The JSON, or the refusal of a body that is none.</returns>
    public static async Task<Answer<JsonDocument>> Json(HttpRequest request)
    {
        if (!(await Bytes(request.Body, UploadLimits.LargestJsonBytes, request.HttpContext.RequestAborted)).TryGet(out var bytes, out var tooLarge))
        {
            return tooLarge;
        }

        try
        {
            var json = JsonDocument.Parse(bytes);
            return json.RootElement.ValueKind == JsonValueKind.Object ? json : NoObject();
        }
        catch (JsonException)
        {
            return NoObject();
        }
    }

    /// <summary>A text member, or null where there is none.</summary>
    public static string? Text(this JsonDocument json, string name) =>
        json.RootElement.TryGetProperty(name, out var member) && member.ValueKind == JsonValueKind.String ? member.GetString() : null;

    private static Refusal NoObject() => new(
        "not_json",
        "The request's body is not a JSON object.",
        "Reload the page and do it again.");
}
