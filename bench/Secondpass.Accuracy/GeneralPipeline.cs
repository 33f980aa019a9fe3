using System.Diagnostics;
using System.Text.Json.Nodes;
using Secondpass.Domain.Anatomy;
using Secondpass.Phantoms.Imaging;

namespace Secondpass.Accuracy;

/// <summary>The reference: a scripted pipeline of general-purpose libraries, <c>bench/general_pipeline.py</c>, on the same films.</summary>
internal static class GeneralPipeline
{
    /// <summary>Writes films and marks of a pair as the script reads them.</summary>
    /// <param name="pair">The pair.</param>
    /// <param name="folder">Its folder; made when missing.</param>
    public static void Write(KnownPair pair, string folder)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, "before.png"), PngWriter.Write(pair.Request.Before));
        File.WriteAllBytes(Path.Combine(folder, "after.png"), PngWriter.Write(pair.Request.After));
        File.WriteAllText(Path.Combine(folder, "case.json"), new JsonObject
        {
            ["schema"] = 1,
            ["tooth"] = "16",
            ["pixel_spacing_mm"] = pair.Request.BeforeScale!.MillimetresPerPixel,
            ["after_state"] = "removed",
            ["canals"] = new JsonArray([.. pair.Request.Canals.Select(Canal)]),
        }.ToJsonString());
        File.WriteAllText(Path.Combine(folder, "truth.json"), """{ "before": "before.png", "after": "after.png" }""");
    }

    /// <summary>Runs the script over a pair, which gets a <c>general.json</c>.</summary>
    /// <param name="folder">The pair's folder.</param>
    public static void Run(string folder)
    {
        var start = new ProcessStartInfo("/usr/bin/python3");
        start.ArgumentList.Add(Path.Combine(ModelPage.Root(), "bench", "general_pipeline.py"));
        start.ArgumentList.Add("--pair");
        start.ArgumentList.Add(folder);
        using var python = Process.Start(start)!;
        python.WaitForExit();
        if (python.ExitCode != 0)
        {
            throw new InvalidOperationException($"general_pipeline.py ended with {python.ExitCode.ToString(CultureInfo.InvariantCulture)}.");
        }
    }

    /// <summary>What it says of a pair, and how long that took inside its process.</summary>
    /// <param name="pair">The pair.</param>
    /// <param name="folder">Its folder.</param>
    public static (IReadOnlyList<FoundBranch>? Found, double Seconds) Read(KnownPair pair, string folder)
    {
        var file = Path.Combine(folder, "general.json");
        var json = JsonNode.Parse(File.ReadAllText(file))!.AsObject();
        var seconds = json["seconds"]!.GetValue<double>();
        return ((bool)json["registration"]!["ok"]! ? FoundBranch.Read(file, pair.Request.BeforeScale!.MillimetresPerPixel) : null, seconds);
    }

    /// <summary>The marks of a canal with its branches, as in a case file.</summary>
    public static JsonObject Canal(CanalClicks canal) => new()
    {
        ["name"] = canal.Name,
        ["trace_px"] = new JsonArray([.. canal.Pins.Select(pin => new JsonArray(pin.At.X, pin.At.Y))]),
        ["pin"] = "soft",
        ["branches"] = new JsonArray([.. canal.Branches.Select(Canal)]),
    };
}
