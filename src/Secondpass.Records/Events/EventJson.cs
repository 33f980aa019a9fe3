using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Quantities;

namespace Secondpass.Records.Events;

/// <summary>The JSON form of events: names in small letters with underscores, quantities as bare numbers in their type's unit.</summary>
/// <remarks>
/// Reading is strict: a member that is missing or not known is a defect, so that a type whose shape changed can't be
/// read from an older payload by accident.
/// </remarks>
internal static class EventJson
{
    /// <summary>How events are written and read.</summary>
    public static JsonSerializerOptions Options { get; } = Make();

    private static JsonSerializerOptions Make()
    {
        var options = new JsonSerializerOptions
        {
            PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            IgnoreReadOnlyProperties = true,
            RespectNullableAnnotations = true,
            RespectRequiredConstructorParameters = true,
            UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
            TypeInfoResolver = new DefaultJsonTypeInfoResolver(),
            Converters =
            {
                new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower, allowIntegerValues: false),
                new NumberConverter<Millimetres>(value => value.Value, number => new Millimetres(number)),
                new NumberConverter<Degrees>(value => value.Value, number => new Degrees(number)),
                new NumberConverter<SquareMillimetres>(value => value.Value, number => new SquareMillimetres(number)),
                new ToothConverter(),
                new PartsConverter<Interval, IntervalParts>(value => new(value.Low, value.High), parts => new Interval(parts.Low, parts.High)),
                new PartsConverter<Estimate, EstimateParts>(value => new(value.Value, value.Interval), parts => new Estimate(parts.Value, parts.Interval)),
                new PartsConverter<Refusal, RefusalParts>(
                    value => new(value.Code, value.Reason, value.Remedy, value.Evidence),
                    parts => new Refusal(parts.Code, parts.Reason, parts.Remedy, parts.Evidence)),
                new KindConverter<CaseEvent>(),
                new KindConverter<ChairsideEntry>(),
                new KindConverter<ClinicEvent>(),
            },
        };
        options.MakeReadOnly();
        return options;
    }

    private sealed record IntervalParts(double Low, double High);

    private sealed record EstimateParts(double Value, Interval Interval);

    private sealed record RefusalParts(string Code, string Reason, string Remedy, IReadOnlyDictionary<string, double> Evidence);

    private sealed class NumberConverter<T>(Func<T, double> write, Func<double, T> read) : JsonConverter<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => read(reader.GetDouble());

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteNumberValue(write(value));
    }

    private sealed class ToothConverter : JsonConverter<ToothNumber>
    {
        public override ToothNumber Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            ToothNumber.Parse(reader.GetString()).TryGet(out var tooth, out var refusal) ? tooth : throw new JsonException(refusal.Reason);

        public override void Write(Utf8JsonWriter writer, ToothNumber value, JsonSerializerOptions options) => writer.WriteStringValue(value.ToString());
    }

    // For types that check their parts when they are made, or can be made in more than one way.
    private sealed class PartsConverter<T, TParts>(Func<T, TParts> write, Func<TParts, T> read) : JsonConverter<T>
        where TParts : class
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            read(JsonSerializer.Deserialize<TParts>(ref reader, options) ?? throw new JsonException());

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => JsonSerializer.Serialize(writer, write(value), options);
    }

    // An event inside another says which kind and version it is, as one on its own does beside its payload.
    private sealed class KindConverter<T> : JsonConverter<T>
        where T : class
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var held = JsonSerializer.Deserialize<Held>(ref reader, options) ?? throw new JsonException();
            return (T)EventPayload.Read(held.Kind, held.Version, JsonSerializer.SerializeToUtf8Bytes(held.Content, options));
        }

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options)
        {
            var kind = EventKinds.Of(value.GetType());
            JsonSerializer.Serialize(writer, new Held(kind.Name, kind.Version, JsonSerializer.SerializeToNode(value, kind.Type, options)!.AsObject()), options);
        }
    }

    private sealed record Held(string Kind, int Version, JsonObject Content);
}
