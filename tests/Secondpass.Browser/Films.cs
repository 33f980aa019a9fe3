using System.Buffers.Binary;
using System.Text.Json;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Browser;

/// <summary>A simulated pair of films as files, with where its canals begin and end.</summary>
/// <param name="Before">The film before, a PNG file.</param>
/// <param name="After">The film after, a PNG file.</param>
/// <param name="Width">Columns of the film before.</param>
/// <param name="Height">Rows of the film before.</param>
/// <param name="Canals">Orifice and end of each filled canal, on the film before.</param>
/// <param name="SamePlaces">Two places of the tooth on both films.</param>
public sealed record FilmFiles(
    byte[] Before,
    byte[] After,
    int Width,
    int Height,
    IReadOnlyList<(PixelPoint Orifice, PixelPoint End)> Canals,
    IReadOnlyList<(PixelPoint Before, PixelPoint After)> SamePlaces)
{
    /// <summary>A lower molar with three canals.</summary>
    public static FilmFiles ThreeCanals { get; } = Of(PhantomPair.Make(7, new PairOptions
    {
        Kind = ToothKind.LowerMolar,
        Tooth = new ToothOptions { Splits = false, SecondCanalMissed = false },
        Change = PairChange.Drawn(7, 0.5),
    }));

    /// <summary>The same, with a piece of filling pushed beyond the end of one of them.</summary>
    public static FilmFiles WithMovedMaterial { get; } = Of(PhantomPair.Make(7, new PairOptions
    {
        Kind = ToothKind.LowerMolar,
        Tooth = new ToothOptions { Splits = false, SecondCanalMissed = false },
        Change = PairChange.Drawn(7, 0.5),
        Moved = tooth => [new MovedPlug(tooth.FilledCanals.First().Name, -0.9, 1.0, 0.5)],
    }));

    /// <summary>Films of two different teeth.</summary>
    public static FilmFiles TwoTeeth { get; } = Of(PhantomPair.OfTwoTeeth(5, new PairOptions { Kind = ToothKind.LowerMolar }));

    /// <summary>Films that no other test opens, so that no page of one shows them when they are thrown away.</summary>
    public static FilmFiles ToThrowAway { get; } = Of(PhantomPair.OfTwoTeeth(6, new PairOptions { Kind = ToothKind.LowerMolar }));

    /// <summary>A pair of films of the demonstration folder, as they come from a sensor.</summary>
    /// <param name="folder">The folder's name.</param>
    public static FilmFiles Demo(string folder)
    {
        var (before, after) = (Bytes("before.png"), Bytes("after.png"));
        var canals = JsonDocument.Parse(Bytes("case.json")).RootElement.GetProperty("canals").EnumerateArray().Select(canal => canal.GetProperty("trace_px"));

        // A PNG file's columns and rows stand in its first chunk (PNG specification, third edition, 11.2.1).
        return new FilmFiles(
            before,
            after,
            BinaryPrimitives.ReadInt32BigEndian(before.AsSpan(16)),
            BinaryPrimitives.ReadInt32BigEndian(before.AsSpan(20)),
            [.. canals.Select(trace => (Place(trace[0]), Place(trace[trace.GetArrayLength() - 1])))],
            []);

        byte[] Bytes(string name) => File.ReadAllBytes(Path.Combine(Workbench.Root, "demo", folder, name));

        static PixelPoint Place(JsonElement at) => new(at[0].GetDouble(), at[1].GetDouble());
    }

    private static FilmFiles Of(PhantomPair pair) => new(
        PngWriter.Write(pair.Before.Radiograph),
        PngWriter.Write(pair.After.Radiograph),
        pair.Before.Radiograph.Width,
        pair.Before.Radiograph.Height,
        [.. pair.Clicks(0).Select(Ends)],
        [Same(pair.Truth.Branches[0], 0.1), Same(pair.Truth.Branches[^1], 0.9)]);

    private static (PixelPoint Before, PixelPoint After) Same(BranchTruth branch, double share)
    {
        var level = share * branch.OnBefore.Path.LengthPixels;
        var (at, moved) = (branch.OnBefore.Path.At(level), branch.DisplacementAt(level));
        return (at, new PixelPoint(at.X + moved.Dx, at.Y + moved.Dy));
    }

    private static (PixelPoint Orifice, PixelPoint End) Ends(CanalClicks clicks) => (clicks.Pins[0].At, clicks.Pins[^1].At);
}
