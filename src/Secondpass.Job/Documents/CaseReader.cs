using System.Globalization;
using System.Text.Json.Serialization.Metadata;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;

namespace Secondpass.Job.Documents;

/// <summary>Reads case files. Strict: what isn't understood is refused with its line and column, never skipped.</summary>
public static class CaseReader
{
    /// <summary>The largest case file that is read, in bytes; some thousand marks fit a tenth of it.</summary>
    public const int LargestBytes = 1_000_000;

    /// <summary>Reads a case file.</summary>
    /// <param name="bytes">JSON text in UTF-8, of the shape that docs/schema/case.schema.json describes.</param>
    /// <returns>The case; or the first thing wrong with it, with line and column, the value, what was expected and what to do.</returns>
    public static Answer<MarkedCase> Read(ReadOnlyMemory<byte> bytes)
    {
        if (bytes.Length > LargestBytes)
        {
            return new Refusal(
                "case_too_large",
                string.Create(CultureInfo.InvariantCulture, $"The case has {bytes.Length} bytes; a case file has at most {LargestBytes}."),
                "Give a JSON document with the tooth and a few marks on each canal.");
        }

        if (!PlacedJson.Read(bytes).TryGet(out var json, out var notJson))
        {
            return notJson;
        }

        if (!DocumentShape.Check(json, typeof(CaseDocument)).TryGet(out var shape, out var misshapen))
        {
            return misshapen;
        }

        var type = (JsonTypeInfo<CaseDocument>)DocumentJson.Options.GetTypeInfo(typeof(CaseDocument));
        return new Checked(shape).Case(json.Deserialize(type));
    }

    /// <summary>What the shape of the text can't say: teeth, pixel sizes, and marks that make sense together.</summary>
    private sealed class Checked(DocumentShape shape)
    {
        private readonly HashSet<string> names = new(StringComparer.OrdinalIgnoreCase);
        private readonly Dictionary<string, AfterState> stateOfBranch = [];

        public Answer<MarkedCase> Case(CaseDocument document)
        {
            ToothNumber? tooth = null;
            if (document.Tooth is { } said)
            {
                if (!ToothNumber.Parse(said).TryGet(out var known, out var noTooth))
                {
                    return shape.At("tooth", noTooth);
                }

                tooth = known;
            }

            if (!Scale(document.PixelSpacingMm).TryGet(out var before, out var wrongBefore))
            {
                return shape.At("pixel_spacing_mm", wrongBefore);
            }

            if (!Scale(document.AfterSpacingMm).TryGet(out var after, out var wrongAfter))
            {
                return shape.At("after_spacing_mm", wrongAfter);
            }

            if (document.KnownLength is { } marked && !Calibration.From(marked.Known).TryGet(out _, out var wrongLength))
            {
                return shape.At("known_length", wrongLength);
            }

            if (!Canals(document.Canals, "canals", trunk: null).TryGet(out var canals, out var wrongCanal))
            {
                return wrongCanal;
            }

            if (!new PlanningReader(shape).Read(document).TryGet(out var planning, out var wrongPlanning))
            {
                return wrongPlanning;
            }

            return new MarkedCase(
                tooth,
                before.Scale,
                after.Scale,
                EnumWords.TryRead<AfterState>(document.AfterState, out var state) ? state : null,
                stateOfBranch,
                canals)
            {
                Landmarks = [.. (document.LandmarksPx ?? []).Select(row => new LandmarkPair(new PixelPoint(row[0], row[1]), new PixelPoint(row[2], row[3])))],
                Planning = planning,
                KnownLength = document.KnownLength?.Known,
            };
        }

        private static Answer<MaybeScale> Scale(double? millimetresPerPixel)
        {
            if (millimetresPerPixel is not { } given)
            {
                return new MaybeScale(null);
            }

            return Calibration.From(given, CalibrationSource.Entered).TryGet(out var scale, out var refusal)
                ? new MaybeScale(scale)
                : refusal;
        }

        private Answer<List<CanalClicks>> Canals(IReadOnlyList<CanalDocument> documents, string path, IReadOnlyList<Pin>? trunk)
        {
            var canals = new List<CanalClicks>();
            for (var i = 0; i < documents.Count; i++)
            {
                if (!Canal(documents[i], string.Create(CultureInfo.InvariantCulture, $"{path}[{i}]"), trunk).TryGet(out var canal, out var wrong))
                {
                    return wrong;
                }

                canals.Add(canal);
            }

            return canals;
        }

        private Answer<CanalClicks> Canal(CanalDocument document, string path, IReadOnlyList<Pin>? trunk)
        {
            var name = document.Name.Trim();
            if (!names.Add(name))
            {
                return shape.At($"{path}.name", new Refusal(
                    "name_twice",
                    $"“{name}” names another canal of this tooth already.",
                    "Give each canal and branch a name of its own, such as MB1 and MB2."));
            }

            var strength = EnumWords.TryRead<PinStrength>(document.Pin, out var given) ? given : PinStrength.Soft;
            var marks = document.TracePx.Select(mark => new PixelPoint(mark[0], mark[1])).ToArray();
            var hard = (document.HardPx ?? []).Select(mark => new PixelPoint(mark[0], mark[1])).ToArray();
            if (Array.FindIndex(hard, mark => !marks.Contains(mark)) is >= 0 and var stray)
            {
                return shape.At(string.Create(CultureInfo.InvariantCulture, $"{path}.hard_px[{stray}]"), new Refusal(
                    "hard_mark_not_traced",
                    string.Create(CultureInfo.InvariantCulture, $"[{hard[stray].X}, {hard[stray].Y}] is not one of the marks in trace_px."),
                    "Repeat a mark of trace_px exactly, or add this one there too."));
            }

            var pins = marks.Select(at => new Pin(at, hard.Contains(at) ? PinStrength.Hard : strength)).ToArray();
            for (var i = 1; i < pins.Length; i++)
            {
                if (pins[i].At == pins[i - 1].At)
                {
                    return shape.At(string.Create(CultureInfo.InvariantCulture, $"{path}.trace_px[{i}]"), new Refusal(
                        "same_mark_twice",
                        string.Create(CultureInfo.InvariantCulture, $"the mark [{pins[i].At.X}, {pins[i].At.Y}] is at the same place as the one before it."),
                        "Leave one of the two out; a canal needs two different ends."));
                }
            }

            if (trunk is not null && WhyNoBranch(pins, trunk) is { } loose)
            {
                return shape.At($"{path}.trace_px[0]", loose);
            }

            if (EnumWords.TryRead<AfterState>(document.AfterState, out var state))
            {
                stateOfBranch[name] = state;
            }

            return Canals(document.Branches ?? [], $"{path}.branches", pins).TryGet(out var branches, out var wrong)
                ? new CanalClicks(name, pins, branches)
                : wrong;
        }

        // The trunk's path is not traced yet: all that is known is that it runs not too far from its marks.
        private static Refusal? WhyNoBranch(Pin[] branch, IReadOnlyList<Pin> trunk)
        {
            var start = branch[0].At;
            var length = 0.0;
            var distance = double.MaxValue;
            for (var i = 1; i < trunk.Count; i++)
            {
                length += trunk[i].At.DistanceTo(trunk[i - 1].At);
                distance = Math.Min(distance, DistanceToSegment(start, trunk[i - 1].At, trunk[i].At));
            }

            var farthest = (MarkedCanals.RightAngleSag.Value * length) + MarkedCanals.MarkReachPixels.Value;
            return distance <= farthest ? null : new Refusal(
                "branch_off_trunk",
                string.Create(CultureInfo.InvariantCulture, $"the branch starts at [{start.X}, {start.Y}], {distance:0} pixels from its trunk's marks; {farthest:0} is the farthest that a curved trunk could reach."),
                "Start the branch at a point of its trunk, or list it as a canal of its own.",
                new Dictionary<string, double> { ["distance_px"] = distance, ["farthest_px"] = farthest });
        }

        private static double DistanceToSegment(PixelPoint point, PixelPoint from, PixelPoint to)
        {
            var along = to - from;
            var share = (((point.X - from.X) * along.X) + ((point.Y - from.Y) * along.Y)) / ((along.X * along.X) + (along.Y * along.Y));
            return point.DistanceTo(from.Towards(to, Math.Clamp(share, 0, 1)));
        }

        private readonly record struct MaybeScale(Calibration? Scale);
    }
}
