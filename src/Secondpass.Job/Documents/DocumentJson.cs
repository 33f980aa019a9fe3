using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;

namespace Secondpass.Job.Documents;

/// <summary>The one JSON form of the documents: names in small letters with underscores, every member written, null where there is no value.</summary>
public static class DocumentJson
{
    /// <summary>How documents are written and read.</summary>
    public static JsonSerializerOptions Options { get; } = MakeOptions();

    /// <summary>A document as JSON text.</summary>
    /// <typeparam name="T">One of the document types.</typeparam>
    /// <param name="document">The document.</param>
    /// <returns>UTF-8 on one line, closed by a line end.</returns>
    public static byte[] Write<T>(T document) =>
        [.. JsonSerializer.SerializeToUtf8Bytes(document, (JsonTypeInfo<T>)Options.GetTypeInfo(typeof(T))), (byte)'\n'];

    /// <summary>A document that this program wrote and kept.</summary>
    /// <typeparam name="T">One of the document types.</typeparam>
    /// <param name="kept">Its JSON text.</param>
    /// <exception cref="JsonException">The text is not such a document.</exception>
    public static T Read<T>(string kept) => JsonSerializer.Deserialize(kept, (JsonTypeInfo<T>)Options.GetTypeInfo(typeof(T)))!;

    private static JsonSerializerOptions MakeOptions()
    {
        var options = new JsonSerializerOptions
        {
            PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            TypeInfoResolver = DocumentContracts.Default,
        };
        options.MakeReadOnly();
        return options;
    }
}

/// <summary>The documents' members, gathered when the program is compiled: nothing is looked up while it starts.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower)]
[JsonSerializable(typeof(CaseDocument))]
[JsonSerializable(typeof(MeasureDocument))]
[JsonSerializable(typeof(CompareDocument))]
[JsonSerializable(typeof(TogetherDocument))]
[JsonSerializable(typeof(PlanDocument))]
[JsonSerializable(typeof(DrawingDocument))]
[JsonSerializable(typeof(MeasurementsDocument))]
[JsonSerializable(typeof(VerifyDocument))]
[JsonSerializable(typeof(RefusalDocument))]
internal sealed partial class DocumentContracts : JsonSerializerContext;
