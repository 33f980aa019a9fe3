using System.Globalization;
using System.Text.Json.Serialization.Metadata;
using Secondpass.Domain;

namespace Secondpass.Job.Documents;

/// <summary>Reads the answers of <c>compare</c> back. Strict: what isn't understood is refused with its line and column, never skipped.</summary>
public static class CompareReader
{
    /// <summary>The largest answer that is read, in bytes; a tooth with eight branches fits a hundredth of it.</summary>
    public const int LargestBytes = 10_000_000;

    /// <summary>Reads an answer of <c>compare</c>.</summary>
    /// <param name="bytes">JSON text in UTF-8, of the shape that docs/schema/compare.schema.json describes.</param>
    /// <returns>The answer; or the first thing wrong with it, with the value, what was expected and what to do.</returns>
    public static Answer<CompareDocument> Read(ReadOnlyMemory<byte> bytes)
    {
        if (!PlacedJson.Read(bytes).TryGet(out var json, out var notJson))
        {
            return notJson;
        }

        if (!DocumentShape.Check(json, typeof(CompareDocument)).TryGet(out _, out var misshapen))
        {
            return misshapen;
        }

        var document = json.Deserialize((JsonTypeInfo<CompareDocument>)DocumentJson.Options.GetTypeInfo(typeof(CompareDocument)));
        foreach (var canal in document.Canals)
        {
            (double? Percent, double[]? Ends)[] masses =
            [
                (canal.MassPercent, canal.MassInterval),
                .. new[] { canal.Thirds.Coronal, canal.Thirds.Middle, canal.Thirds.Apical }.Select(third => (third?.MassPercent, third?.MassInterval)),
            ];
            foreach (var (percent, ends) in masses)
            {
                if (percent is { } value && !(ends is [var low, var high] && low <= value && value <= high))
                {
                    return new Refusal(
                        "mass_outside_interval",
                        string.Create(CultureInfo.InvariantCulture, $"The mass {value} % of {canal.Name} does not lie in an interval of its own."),
                        "Give a file that compare --json has written, unchanged.");
                }
            }
        }

        return document;
    }
}
