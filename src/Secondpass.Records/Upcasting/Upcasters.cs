using System.Text.Json.Nodes;

namespace Secondpass.Records.Upcasting;

/// <summary>Translates payloads of older versions into the next one, step by step: the one table that a changed shape is entered in.</summary>
internal static class Upcasters
{
    private static readonly Dictionary<(string Kind, int Version), Func<JsonObject, JsonObject>> Table = new()
    {
        // Before there was a second wording, nobody noted which one was accepted: it was the first.
        [("notice_accepted", 1)] = payload => Added(payload, "notice", 1),

        // In which canal an instrument was used was not kept of a forgotten patient. Each use is taken for a canal of its own, which is
        // the most it can have been: a worn instrument is rather asked about too early than taken for a fresh one.
        [("patient_forgotten", 1)] = payload =>
        {
            foreach (var (place, use) in payload["uses"]!.AsArray().Index())
            {
                use!["canal"] = place + 1;
            }

            return payload;
        },

        // What was set for a plan was used and not kept.
        [("plan_chosen", 1)] = payload => Added(payload, "settings", new JsonObject { ["canals"] = new JsonObject(), ["core"] = null, ["resin_follows"] = false }),

        // A fee was kept in hundredths before a clinic could say of which currency.
        [("tooth_assessed", 1)] = payload =>
        {
            var assessment = payload["assessment"]!.AsObject();
            var fee = (long?)assessment["exploration_fee_minor_units"];
            assessment.Remove("exploration_fee_minor_units");
            assessment["exploration_fee"] = fee is { } known ? new JsonObject { ["minor_units"] = known, ["currency_code"] = null } : null;
            return payload;
        },

        // A patient had no date of birth here, and where a film came from was not noted.
        [("case_opened", 1)] = payload => AddedTo("patient", payload, "born"),
        [("patient_corrected", 1)] = payload => AddedTo("patient", payload, "born"),
        [("film_attached", 1)] = payload => AddedTo("film", payload, "origin"),

        // The day on which a film was taken could not be entered.
        [("film_attached", 2)] = payload => AddedTo("film", payload, "day_entered"),
    };

    /// <summary>The versions that can be translated, by kind.</summary>
    public static IReadOnlyCollection<(string Kind, int Version)> Known => Table.Keys;

    /// <summary>A payload in a newer version.</summary>
    /// <param name="kind">Its kind.</param>
    /// <param name="from">The version that it has.</param>
    /// <param name="to">The version wanted; not older.</param>
    /// <param name="payload">The payload; may be changed.</param>
    public static JsonObject Raise(string kind, int from, int to, JsonObject payload) =>
        Enumerable.Range(from, to - from).Aggregate(payload, (so, version) => Table[(kind, version)](so));

    private static JsonObject Added(JsonObject payload, string member, JsonNode value)
    {
        payload[member] = value;
        return payload;
    }

    private static JsonObject AddedTo(string part, JsonObject payload, string member)
    {
        payload[part]![member] = null;
        return payload;
    }
}
