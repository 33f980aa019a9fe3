using System.Numerics;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Matter;

namespace Secondpass.Phantoms.Imaging;

/// <summary>Makes periapical radiographs of simulated teeth: cone beam, Beer's law at a few energies, blur, noise, processing.</summary>
/// <remarks>Figures that come from these films hold on simulated films only.</remarks>
public static class FilmSimulator
{
    /// <summary>Takes a film.</summary>
    /// <param name="tooth">The tooth.</param>
    /// <param name="geometry">How source, tooth and film stand.</param>
    /// <param name="exposure">Exposure and processing.</param>
    /// <param name="contents">What stands in the canals.</param>
    /// <param name="seed">The noise follows from it.</param>
    public static PhantomFilm Render(PhantomTooth tooth, FilmGeometry geometry, Exposure exposure, PhantomContents contents, int seed)
    {
        ArgumentNullException.ThrowIfNull(tooth);
        ArgumentNullException.ThrowIfNull(geometry);
        ArgumentNullException.ThrowIfNull(exposure);
        ArgumentNullException.ThrowIfNull(contents);
        var scene = new Scene(tooth, geometry, contents);
        var signal = new float[geometry.Width * geometry.Height];
        var beam = new BeamTable(exposure.Beam, tooth.Filling);
        var maps = scene.NewMaps();
        Parallel.For(
            0,
            geometry.Height,
            () => new RowWork(geometry.Width),
            (row, _, work) =>
            {
                scene.TraceRow(row, work, maps);
                beam.Transmit(work, signal.AsSpan(row * geometry.Width, geometry.Width));
                return work;
            },
            _ => { });
        var pixels = Sensor.Read(signal, geometry.Width, geometry.Height, geometry.PixelSize, exposure, seed);
        var film = new Radiograph(
            geometry.Width,
            geometry.Height,
            pixels,
            Sensor.GreatestValue(exposure.Bits),
            FilmFormat.Simulated,
            Convert.ToHexStringLower(SHA256.HashData(MemoryMarshal.AsBytes(pixels.AsSpan()))));
        return new PhantomFilm(film, tooth, geometry, exposure, contents, maps);
    }

    /// <summary>Thickness of each branch's old filling along the rays of a film, without taking the film.</summary>
    /// <param name="tooth">The tooth.</param>
    /// <param name="geometry">How source, tooth and film stand.</param>
    /// <param name="residue">What is left of the filling.</param>
    public static IReadOnlyDictionary<string, ThicknessMap> FillingThickness(PhantomTooth tooth, FilmGeometry geometry, Residue residue)
    {
        ArgumentNullException.ThrowIfNull(tooth);
        ArgumentNullException.ThrowIfNull(geometry);
        var scene = new Scene(tooth, geometry, new PhantomContents { Residue = residue }, fillingOnly: true);
        var maps = scene.NewMaps();
        Parallel.For(0, geometry.Height, () => new RowWork(geometry.Width), (row, _, work) =>
        {
            scene.TraceRow(row, work, maps);
            return work;
        }, _ => { });
        return maps;
    }
}

/// <summary>The substances along a ray, as columns of a table.</summary>
internal enum Substance
{
    Air,
    Tissue,
    Bone,
    Dentine,
    Enamel,
    Filling,
    Composite,
    Amalgam,
    CrownMetal,
    Steel,
    NickelTitanium,
    Water,
    PlainDressing,
    RadiopaqueDressing,
}

/// <summary>Attenuation of the substances at a beam's lines.</summary>
internal sealed class BeamTable
{
    private readonly float[] weights;
    private readonly float[][] perMillimetre;

    public BeamTable(Spectrum beam, Material filling)
    {
        weights = [.. beam.Weights.Select(weight => (float)weight)];
        perMillimetre = [.. beam.EnergiesKeV.Select(energy => Enumerable.Range(0, RowWork.Substances)
            .Select(index => (float)(MaterialOf((Substance)index, filling)?.PerMillimetre(energy) ?? 0)).ToArray())];
    }

    /// <summary>The signal behind a row of rays, air 1.</summary>
    public void Transmit(RowWork work, Span<float> signal)
    {
        var lanes = Vector<float>.Count;
        signal.Clear();
        for (var line = 0; line < weights.Length; line++)
        {
            var mu = perMillimetre[line];
            var weight = new Vector<float>(weights[line]);
            for (var column = 0; column < signal.Length; column += lanes)
            {
                var exponent = Vector<float>.Zero;
                for (var substance = 1; substance < RowWork.Substances; substance++)
                {
                    if (work.Present[substance])
                    {
                        exponent -= mu[substance] * new Vector<float>(work.Lengths[substance].AsSpan(column));
                    }
                }

                var passed = weight * Vector.Exp(exponent);
                if (column + lanes <= signal.Length)
                {
                    (new Vector<float>(signal[column..]) + passed).CopyTo(signal[column..]);
                }
                else
                {
                    for (var i = column; i < signal.Length; i++)
                    {
                        signal[i] += passed[i - column];
                    }
                }
            }
        }
    }

    private static Material? MaterialOf(Substance substance, Material filling) => substance switch
    {
        Substance.Tissue => Materials.SoftTissue,
        Substance.Bone => Materials.Bone,
        Substance.Dentine => Materials.Dentine,
        Substance.Enamel => Materials.Enamel,
        Substance.Filling => filling,
        Substance.Composite => Materials.Composite,
        Substance.Amalgam => Materials.Amalgam,
        Substance.CrownMetal => Materials.CrownMetal,
        Substance.Steel => Materials.Steel,
        Substance.NickelTitanium => Materials.NickelTitanium,
        Substance.Water => Materials.Water,
        Substance.PlainDressing => Materials.PlainDressing,
        Substance.RadiopaqueDressing => Materials.RadiopaqueDressing,
        _ => null,
    };
}

/// <summary>What one row of rays passes, by substance, in mm along the ray.</summary>
internal sealed class RowWork
{
    public const int Substances = 14;
    private const int MostPatches = 256;

    public RowWork(int width)
    {
        // A row is read in whole vectors: it is padded to the widest one.
        Lengths = [.. Enumerable.Range(0, Substances).Select(_ => new float[width + Vector<float>.Count])];
        Present = new bool[Substances];
        Active = new int[256];
        Cuts = new int[514];
        Near = new Scene.Layer[256];
        Gaps = new CanalPatch[MostPatches];
        Patches = new CanalPatch[MostPatches];
    }

    public float[][] Lengths { get; }

    public bool[] Present { get; }

    public int[] Active { get; }

    public int[] Cuts { get; }

    public Scene.Layer[] Near { get; }

    public CanalPatch[] Gaps { get; }

    public CanalPatch[] Patches { get; }

    public void Clear()
    {
        for (var i = 0; i < Substances; i++)
        {
            if (Present[i])
            {
                Lengths[i].AsSpan().Clear();
                Present[i] = false;
            }
        }
    }

    public void Add(Substance substance, int column, float millimetres)
    {
        if (millimetres > 0)
        {
            Lengths[(int)substance][column] += millimetres;
            Present[(int)substance] = true;
        }
    }
}

/// <summary>The parts of a ray that are taken already: disjoint pieces of depth.</summary>
internal ref struct Coverage(Span<Chord> pieces)
{
    private readonly Span<Chord> pieces = pieces;
    private int count;

    /// <summary>Whether a depth is taken.</summary>
    public readonly bool Holds(float z)
    {
        for (var i = 0; i < count; i++)
        {
            if (z >= pieces[i].From && z <= pieces[i].To)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Takes what of a chord is free.</summary>
    /// <returns>How much depth that was.</returns>
    public float Take(Chord chord)
    {
        var (from, to) = (chord.From, chord.To);
        if (to <= from)
        {
            return 0;
        }

        float taken = 0;
        var kept = 0;
        for (var i = 0; i < count; i++)
        {
            var piece = pieces[i];
            if (piece.To < from || piece.From > to)
            {
                pieces[kept++] = piece;
                continue;
            }

            taken += piece.Length;
            from = MathF.Min(from, piece.From);
            to = MathF.Max(to, piece.To);
        }

        pieces[kept++] = new Chord(from, to);
        count = kept;
        return to - from - taken;
    }
}
