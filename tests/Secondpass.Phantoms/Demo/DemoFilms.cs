using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Phantoms.Demo;

/// <summary>Writes the demonstration's films: invented teeth, two films each, with the case file that goes with them and what is true of them.</summary>
public static class DemoFilms
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes every case into a folder of its own: before.png, case.json, truth.json, and after.png where treatment has begun.</summary>
    /// <param name="folder">Where to; made when missing. Files of the same names are replaced.</param>
    /// <returns>The folders written.</returns>
    public static IReadOnlyList<string> WriteTo(string folder)
    {
        var written = new List<string>();
        foreach (var demo in DemoCase.All)
        {
            var into = Directory.CreateDirectory(Path.Combine(folder, demo.Folder)).FullName;
            var pair = demo.Make();
            File.WriteAllBytes(Path.Combine(into, "before.png"), Png(pair.Before.Radiograph));
            if (!demo.OnlyBefore)
            {
                File.WriteAllBytes(Path.Combine(into, "after.png"), Png(pair.After.Radiograph));
            }

            WriteJson(Path.Combine(into, "case.json"), Case(demo, pair));
            WriteJson(Path.Combine(into, "truth.json"), Truth(demo, pair));
            written.Add(into);
        }

        return written;
    }

    /// <summary>A sensor's 12 bits fill the upper part of a file's 16.</summary>
    private static byte[] Png(Radiograph film)
    {
        if (film.GreatestValue <= 255)
        {
            return PngWriter.Write(film);
        }

        var pixels = new ushort[film.Pixels.Length];
        for (var i = 0; i < pixels.Length; i++)
        {
            pixels[i] = (ushort)(film.Pixels[i] * 65536 / (film.GreatestValue + 1));
        }

        return PngWriter.Write(film.Width, film.Height, pixels, eightBits: false);
    }

    private static void WriteJson(string file, JsonObject content) => File.WriteAllText(file, content.ToJsonString(Indented) + "\n");

    private static JsonObject Case(DemoCase demo, PhantomPair pair) => new()
    {
        ["schema"] = 1,
        ["tooth"] = demo.ToothNumber,
        ["pixel_spacing_mm"] = Math.Round(pair.Before.Geometry.PixelSizeAtTooth, 5, MidpointRounding.AwayFromZero),
        ["after_spacing_mm"] = null,
        ["after_state"] = demo.AfterState,
        ["canals"] = new JsonArray([.. pair.Clicks(demo.PinsBetween, jitterPixels: 1.5, demo.Seed).Select(Marked)]),
    };

    private static JsonObject Marked(Domain.Anatomy.CanalClicks canal)
    {
        var marked = new JsonObject
        {
            ["name"] = canal.Name,
            ["trace_px"] = new JsonArray([.. canal.Pins.Select(pin => new JsonArray(Whole(pin.At.X), Whole(pin.At.Y)))]),
            ["pin"] = "soft",
        };
        if (canal.Branches.Count > 0)
        {
            marked["branches"] = new JsonArray([.. canal.Branches.Select(Marked)]);
        }

        return marked;
    }

    private static JsonObject Truth(DemoCase demo, PhantomPair pair) => new()
    {
        ["simulated"] = true,
        ["shows"] = demo.Story,
        ["canals"] = new JsonArray([.. pair.Truth.Branches.Select(branch => new JsonObject
        {
            ["name"] = branch.Name,
            ["filled_before"] = branch.OnBefore.Canal.IsFilled,
            ["length_mm"] = Tenths(branch.OnBefore.LengthMillimetres, 2),
            ["fill_end_mm"] = branch.OnBefore.FilledToPixels is { } end ? Tenths((branch.OnBefore.Path.LengthPixels - end) * pair.Before.Geometry.PixelSizeAtTooth, 2) : null,
            ["mass_percent"] = Tenths(branch.Whole?.MassPercent, 1),
            ["area_percent"] = Tenths(branch.Whole?.AreaPercent, 1),
            ["thirds_mass_percent"] = new JsonObject(Enum.GetValues<CanalThird>().Select(third => KeyValuePair.Create<string, JsonNode?>(
                third.ToString().ToLowerInvariant(),
                branch.Thirds.TryGetValue(third, out var truth) ? Tenths(truth.MassPercent, 1) : null))),
        })]),
    };

    private static JsonNode Whole(double value) => (int)Math.Round(value, MidpointRounding.AwayFromZero);

    private static JsonNode? Tenths(double? value, int digits) => value is { } number ? Math.Round(number, digits, MidpointRounding.AwayFromZero) : null;
}
