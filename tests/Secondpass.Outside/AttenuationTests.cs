using System.Diagnostics;
using System.Text;
using Secondpass.Phantoms.Matter;

namespace Secondpass.Outside;

/// <summary>The simulator's attenuation coefficients against xraylib (Schoonjans et al., Spectrochim Acta B 2011;66:776–784), Debian's python3-xraylib.</summary>
public sealed class AttenuationTests
{
    private const string Install = "apt-get install -y python3-xraylib";

    // Both rest on photon cross sections of the same institute (XCOM), printed with four digits: half a unit of the last is
    // at most 0.05 %, and xraylib interpolates with a spline of its own. 0.3 % covers both.
    [Fact]
    public void The_table_of_every_element_agrees_with_xraylib_at_its_own_energies()
    {
        var asked = Element.All
            .SelectMany(element => element.EnergiesKeV.Select((energy, i) => (element, energy, ours: element.SquareCentimetresPerGram[i])))
            .Where(row => row.element.EnergiesKeV.Count(energy => energy == row.energy) == 1)
            .ToList();

        var theirs = Xraylib(asked.Select(row => (row.element.AtomicNumber, row.energy)));

        Assert.True(asked.Count >= 130);
        Assert.All(asked.Zip(theirs), pair => AssertClose(pair.First.ours, pair.Second, 0.003, $"{pair.First.element.Name} at {pair.First.energy} keV"));
    }

    // Between the table's energies both interpolate, each in its own way. Where the curve bends most (light elements between
    // 20 and 30 keV, where scatter takes over from the photoelectric effect, and just above an edge) they part by up to 1 %.
    [Fact]
    public void Interpolated_coefficients_at_the_beams_lines_agree_with_xraylib()
    {
        var asked = Element.All.SelectMany(element => Spectrum.Usual.EnergiesKeV.Select(energy => (element, energy))).ToList();

        var theirs = Xraylib(asked.Select(row => (row.element.AtomicNumber, row.energy)));

        Assert.All(asked.Zip(theirs), pair => AssertClose(
            pair.First.element.At(pair.First.energy), pair.Second, 0.01, $"{pair.First.element.Name} at {pair.First.energy} keV"));
    }

    // Just above and below the K edges the coefficient jumps by a factor of 5 to 6; the edge itself must lie where xraylib has it.
    [Fact]
    public void The_edges_lie_where_xraylib_has_them()
    {
        Element[] withEdge = [Element.Silver, Element.Tin, Element.Barium];
        var edges = withEdge.Select(element => element.EnergiesKeV.GroupBy(energy => energy).Single(group => group.Count() == 2).Key).ToList();

        var theirs = Run("import sys, xraylib\nfor line in sys.stdin: print(xraylib.EdgeEnergy(int(line), xraylib.K_SHELL))", withEdge.Select(element => element.AtomicNumber.ToString(CultureInfo.InvariantCulture)));

        Assert.All(edges.Zip(theirs), pair => Assert.Equal(pair.Second, pair.First, 0.01));
        var (below, above) = (edges.Select(edge => edge - 0.05), edges.Select(edge => edge + 0.05));
        var values = Xraylib(withEdge.Zip(below).Concat(withEdge.Zip(above)).Select(pair => (pair.First.AtomicNumber, pair.Second)));
        for (var i = 0; i < withEdge.Length; i++)
        {
            AssertClose(withEdge[i].At(edges[i] - 0.05), values[i], 0.01, withEdge[i].Name);
            AssertClose(withEdge[i].At(edges[i] + 0.05), values[i + withEdge.Length], 0.01, withEdge[i].Name);
        }
    }

    // xraylib mixes compounds from their formulae itself; the worst element's interpolation bounds the difference.
    [Theory]
    [InlineData("water", "H2O")]
    [InlineData("aluminium", "Al")]
    public void Mixtures_agree_with_xraylibs_own_compounds(string name, string formula)
    {
        var material = Materials.All.Single(material => material.Name == name);
        var energies = Spectrum.Usual.EnergiesKeV;

        var theirs = Run(
            $"import sys, xraylib\nfor line in sys.stdin: print(xraylib.CS_Total_CP('{formula}', float(line)))",
            energies.Select(energy => energy.ToString("R", CultureInfo.InvariantCulture)));

        Assert.All(energies.Zip(theirs), pair => AssertClose(
            material.PerMillimetre(pair.First) * 10 / material.GramsPerCubicCentimetre, pair.Second, 0.01, $"{name} at {pair.First} keV"));
    }

    // The filling's whole coefficient from xraylib's compounds, density included: barium sulfate, zinc oxide, polyisoprene, paraffin; 1 % as for the elements.
    [Fact]
    public void The_filling_agrees_with_xraylibs_compounds_by_mass()
    {
        var energies = Spectrum.Usual.EnergiesKeV;
        const string script = """
            import sys, xraylib
            parts = [('C5H8', 0.20), ('ZnO', 0.66), ('BaSO4', 0.11), ('CH2', 0.03)]
            for line in sys.stdin:
                print(sum(share * xraylib.CS_Total_CP(formula, float(line)) for formula, share in parts) * 2.602 / 10)
            """;

        var theirs = Run(script, energies.Select(energy => energy.ToString("R", CultureInfo.InvariantCulture)));

        Assert.All(energies.Zip(theirs), pair => AssertClose(Materials.Filling.PerMillimetre(pair.First), pair.Second, 0.01, $"filling at {pair.First} keV"));
    }

    private static void AssertClose(double ours, double theirs, double share, string what) =>
        Assert.True(Math.Abs((ours / theirs) - 1) <= share, string.Create(CultureInfo.InvariantCulture, $"{what}: {ours} against {theirs}"));

    private static List<double> Xraylib(IEnumerable<(int AtomicNumber, double EnergyKeV)> asked) => Run(
        "import sys, xraylib\nfor line in sys.stdin:\n    z, e = line.split()\n    print(xraylib.CS_Total(int(z), float(e)))",
        asked.Select(row => string.Create(CultureInfo.InvariantCulture, $"{row.AtomicNumber} {row.EnergyKeV:R}")));

    private static List<double> Run(string script, IEnumerable<string> lines)
    {
        var start = new ProcessStartInfo("/usr/bin/python3")
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardInputEncoding = new UTF8Encoding(false),
        };
        start.ArgumentList.Add("-c");
        start.ArgumentList.Add(script);
        using var python = Process.Start(start)!;
        var errors = python.StandardError.ReadToEndAsync();
        var output = python.StandardOutput.ReadToEndAsync();
        foreach (var line in lines)
        {
            python.StandardInput.WriteLine(line);
        }

        python.StandardInput.Close();
        python.WaitForExit();
        Assert.True(python.ExitCode == 0, $"{errors.Result}\nIf xraylib is missing, run: {Install}");
        return [.. output.Result.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => double.Parse(line, CultureInfo.InvariantCulture))];
    }
}
