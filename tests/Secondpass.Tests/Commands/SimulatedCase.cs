using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Job.Documents;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Tests.Commands;

/// <summary>A folder with before.png, after.png and case.json of a simulated upper incisor, as a user would have them.</summary>
public sealed class SimulatedCase : IDisposable
{
    /// <summary>Makes the files.</summary>
    public SimulatedCase()
    {
        Folder = Directory.CreateTempSubdirectory("secondpass case ").FullName;
        Pair = PhantomPair.Make(11, new PairOptions { Kind = ToothKind.UpperIncisor, Residual = 0.3, Change = PairChange.None });
        File.WriteAllBytes(At("before.png"), PngWriter.Write(Pair.Before.Radiograph));
        File.WriteAllBytes(At("after.png"), PngWriter.Write(Pair.After.Radiograph));
        File.WriteAllBytes(At("case.json"), DocumentJson.Write(Case));
    }

    /// <summary>The folder.</summary>
    public string Folder { get; }

    /// <summary>The films with their truth.</summary>
    public PhantomPair Pair { get; }

    /// <summary>What case.json holds.</summary>
    public CaseDocument Case => new(
        1,
        "11",
        Pair.Before.Geometry.PixelSizeAtTooth,
        null,
        EnumWords.Of(AfterState.Removed),
        [.. Pair.Clicks().Select(Canal)]);

    /// <summary>The path of a file in the folder.</summary>
    public string At(string name) => Path.Combine(Folder, name);

    /// <summary>Writes a case file that differs, and returns its path.</summary>
    public string Write(string name, CaseDocument document)
    {
        File.WriteAllBytes(At(name), DocumentJson.Write(document));
        return At(name);
    }

    /// <inheritdoc/>
    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private static CanalDocument Canal(CanalClicks clicks) => new(
        clicks.Name,
        [.. clicks.Pins.Select(pin => new[] { pin.At.X, pin.At.Y })],
        null,
        null,
        [.. clicks.Branches.Select(Canal)]);
}
