namespace Secondpass.Phantoms.Matter;

/// <summary>A chemical element with its mass attenuation coefficients between 20 and 80 keV.</summary>
/// <remarks>
/// Source: Hubbell JH, Seltzer SM, Tables of X-Ray Mass Attenuation Coefficients and Mass Energy-Absorption
/// Coefficients, NISTIR 5632, NIST Standard Reference Database 126 (1995, version 1.4 2004), table 3.
/// An absorption edge stands twice in a table, with the value below and above it.
/// </remarks>
/// <param name="Name">Its name.</param>
/// <param name="AtomicNumber">Its atomic number.</param>
/// <param name="EnergiesKeV">Photon energies in keV, not descending.</param>
/// <param name="SquareCentimetresPerGram">Mass attenuation coefficients in cm²/g, coherent scattering included.</param>
public sealed record Element(string Name, int AtomicNumber, IReadOnlyList<double> EnergiesKeV, IReadOnlyList<double> SquareCentimetresPerGram)
{
    private static readonly double[] PlainEnergies = [20, 30, 40, 50, 60, 80];

    /// <summary>Hydrogen.</summary>
    public static Element Hydrogen { get; } = new("hydrogen", 1, PlainEnergies, [0.3695, 0.357, 0.3458, 0.3355, 0.326, 0.3091]);

    /// <summary>Carbon.</summary>
    public static Element Carbon { get; } = new("carbon", 6, PlainEnergies, [0.442, 0.2562, 0.2076, 0.1871, 0.1753, 0.161]);

    /// <summary>Nitrogen.</summary>
    public static Element Nitrogen { get; } = new("nitrogen", 7, PlainEnergies, [0.6178, 0.3066, 0.2288, 0.198, 0.1817, 0.1639]);

    /// <summary>Oxygen.</summary>
    public static Element Oxygen { get; } = new("oxygen", 8, PlainEnergies, [0.8651, 0.3779, 0.2585, 0.2132, 0.1907, 0.1678]);

    /// <summary>Sodium.</summary>
    public static Element Sodium { get; } = new("sodium", 11, PlainEnergies, [2.057, 0.7197, 0.3969, 0.2804, 0.2268, 0.1796]);

    /// <summary>Magnesium.</summary>
    public static Element Magnesium { get; } = new("magnesium", 12, PlainEnergies, [2.763, 0.9306, 0.4881, 0.3292, 0.257, 0.1951]);

    /// <summary>Aluminium.</summary>
    public static Element Aluminium { get; } = new("aluminium", 13, PlainEnergies, [3.441, 1.128, 0.5685, 0.3681, 0.2778, 0.2018]);

    /// <summary>Silicon.</summary>
    public static Element Silicon { get; } = new("silicon", 14, PlainEnergies, [4.464, 1.436, 0.7012, 0.4385, 0.3207, 0.2228]);

    /// <summary>Phosphorus.</summary>
    public static Element Phosphorus { get; } = new("phosphorus", 15, PlainEnergies, [5.352, 1.7, 0.8096, 0.4916, 0.3494, 0.2324]);

    /// <summary>Sulfur.</summary>
    public static Element Sulfur { get; } = new("sulfur", 16, PlainEnergies, [6.708, 2.113, 0.9872, 0.5849, 0.4053, 0.2585]);

    /// <summary>Chlorine.</summary>
    public static Element Chlorine { get; } = new("chlorine", 17, PlainEnergies, [7.739, 2.425, 1.117, 0.6483, 0.4395, 0.2696]);

    /// <summary>Potassium.</summary>
    public static Element Potassium { get; } = new("potassium", 19, PlainEnergies, [10.93, 3.413, 1.541, 0.8679, 0.5678, 0.3251]);

    /// <summary>Calcium.</summary>
    public static Element Calcium { get; } = new("calcium", 20, PlainEnergies, [13.06, 4.08, 1.83, 1.019, 0.6578, 0.3656]);

    /// <summary>Titanium.</summary>
    public static Element Titanium { get; } = new("titanium", 22, PlainEnergies, [15.85, 4.972, 2.214, 1.213, 0.7661, 0.4052]);

    /// <summary>Chromium.</summary>
    public static Element Chromium { get; } = new("chromium", 24, PlainEnergies, [20.38, 6.434, 2.856, 1.55, 0.9639, 0.4905]);

    /// <summary>Iron.</summary>
    public static Element Iron { get; } = new("iron", 26, PlainEnergies, [25.68, 8.176, 3.629, 1.958, 1.205, 0.5952]);

    /// <summary>Nickel.</summary>
    public static Element Nickel { get; } = new("nickel", 28, PlainEnergies, [32.2, 10.34, 4.6, 2.474, 1.512, 0.7306]);

    /// <summary>Copper.</summary>
    public static Element Copper { get; } = new("copper", 29, PlainEnergies, [33.79, 10.92, 4.862, 2.613, 1.593, 0.763]);

    /// <summary>Zinc.</summary>
    public static Element Zinc { get; } = new("zinc", 30, PlainEnergies, [37.19, 12.07, 5.384, 2.892, 1.76, 0.8364]);

    /// <summary>Silver.</summary>
    public static Element Silver { get; } = new("silver", 47, [20, 25.514, 25.514, 30, 40, 50, 60, 80], [18.36, 9.527, 55.39, 36.68, 17.2, 9.444, 5.766, 2.651]);

    /// <summary>Tin.</summary>
    public static Element Tin { get; } = new("tin", 50, [20, 29.2001, 29.2001, 30, 40, 50, 60, 80], [21.46, 7.76, 43.6, 41.21, 19.42, 10.7, 6.564, 3.029]);

    /// <summary>Barium.</summary>
    public static Element Barium { get; } = new("barium", 56, [20, 30, 37.4406, 37.4406, 40, 50, 60, 80], [29.38, 9.904, 5.498, 29.19, 24.57, 13.79, 8.511, 3.963]);

    /// <summary>Mercury.</summary>
    public static Element Mercury { get; } = new("mercury", 80, PlainEnergies, [81.23, 28.41, 13.42, 7.504, 4.683, 2.259]);

    /// <summary>All elements that the simulator knows.</summary>
    public static IReadOnlyList<Element> All { get; } =
    [
        Hydrogen, Carbon, Nitrogen, Oxygen, Sodium, Magnesium, Aluminium, Silicon, Phosphorus, Sulfur,
        Chlorine, Potassium, Calcium, Titanium, Chromium, Iron, Nickel, Copper, Zinc, Silver, Tin, Barium, Mercury,
    ];

    /// <summary>Mass attenuation coefficient at one energy in cm²/g, between the table's energies by Lagrange's polynomial through up to four of them in the logarithms of both.</summary>
    /// <param name="energyKeV">Photon energy in keV, 20 to 80. At an edge the value above it.</param>
    public double At(double energyKeV)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(energyKeV, EnergiesKeV[0]);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(energyKeV, EnergiesKeV[^1]);
        var above = EnergiesKeV.Count - 1;
        while (above > 1 && EnergiesKeV[above - 1] > energyKeV)
        {
            above--;
        }

        // Neighbours join in only on the same side of an edge, which stands twice in the table.
        var points = new List<int> { above - 1, above };
        if (above >= 2 && EnergiesKeV[above - 2] < EnergiesKeV[above - 1])
        {
            points.Add(above - 2);
        }

        if (above + 1 < EnergiesKeV.Count && EnergiesKeV[above + 1] > EnergiesKeV[above])
        {
            points.Add(above + 1);
        }

        double sum = 0;
        foreach (var i in points)
        {
            var term = Math.Log(SquareCentimetresPerGram[i]);
            foreach (var j in points.Where(j => j != i))
            {
                term *= Math.Log(energyKeV / EnergiesKeV[j]) / Math.Log(EnergiesKeV[i] / EnergiesKeV[j]);
            }

            sum += term;
        }

        return Math.Exp(sum);
    }
}
