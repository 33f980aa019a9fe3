using System.Diagnostics;
using System.Text.Json;
using System.Text.Json.Nodes;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Imaging;

namespace Secondpass.Accuracy;

/// <summary>The reference for measures: general-purpose libraries, <c>bench/general_measure.py</c>, on the same films and marks.</summary>
internal static class GeneralMeasures
{
    private static readonly JsonSerializerOptions SnakeCase = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower };

    /// <summary>One branch, as the script says.</summary>
    /// <param name="Name">Its name.</param>
    /// <param name="LengthMm">Length of the path.</param>
    /// <param name="SchneiderDeg">Angle after Schneider.</param>
    /// <param name="FillEndMm">Filling end to canal end.</param>
    /// <param name="Widths">Rows [x, y, filling width in mm].</param>
    /// <param name="TraceSeconds">Time of the path.</param>
    /// <param name="Seconds">Time of everything.</param>
    internal sealed record Branch(string Name, double LengthMm, double SchneiderDeg, double FillEndMm, double[][] Widths, double TraceSeconds, double Seconds);

    /// <summary>Writes a film and its marks as the script reads them.</summary>
    public static void Write(string folder, Radiograph film, Calibration scale, IReadOnlyList<CanalClicks> canals)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, "film.png"), PngWriter.Write(film));
        File.WriteAllText(Path.Combine(folder, "case.json"), new JsonObject
        {
            ["pixel_spacing_mm"] = scale.MillimetresPerPixel,
            ["canals"] = new JsonArray([.. canals.Select(GeneralPipeline.Canal)]),
        }.ToJsonString());
    }

    /// <summary>Runs the script over a folder of films.</summary>
    public static void Run(string folder)
    {
        var start = new ProcessStartInfo("/usr/bin/python3");
        start.ArgumentList.Add(Path.Combine(ModelPage.Root(), "bench", "general_measure.py"));
        start.ArgumentList.Add(folder);
        using var python = Process.Start(start)!;
        python.WaitForExit();
        if (python.ExitCode != 0)
        {
            throw new InvalidOperationException($"general_measure.py ended with {python.ExitCode.ToString(CultureInfo.InvariantCulture)}.");
        }
    }

    /// <summary>What it said of a film.</summary>
    public static IReadOnlyList<Branch> Read(string folder) =>
        JsonSerializer.Deserialize<List<Branch>>(File.ReadAllBytes(Path.Combine(folder, "general.json")), SnakeCase)!;
}
