namespace Secondpass.Phantoms.Matter;

/// <summary>The beam of a simulated X-ray set as a few lines: photon energies and the share of the detector's signal that each carries in air.</summary>
/// <remarks>
/// Continuous spectrum after Kramers (Philos Mag 1923;46:836–871): photons per keV proportional to (E0 − E)/E, filtered by
/// aluminium, in equal bands from 20 keV to E0. The detector's signal is taken as proportional to the energy absorbed, all
/// of it. Characteristic lines are left out: tungsten's K lines need more than 69.5 kV.
/// </remarks>
public sealed class Spectrum
{
    private Spectrum(double kilovolts, double filterMillimetresAluminium, double[] energiesKeV, double[] weights)
    {
        Kilovolts = kilovolts;
        FilterMillimetresAluminium = filterMillimetresAluminium;
        EnergiesKeV = energiesKeV;
        Weights = weights;
    }

    /// <summary>65 kV behind 2 mm of aluminium in six lines.</summary>
    public static Spectrum Usual { get; } = Filtered(65, 2.0, 6);

    /// <summary>Tube voltage in kV.</summary>
    public double Kilovolts { get; }

    /// <summary>Filter in mm of aluminium.</summary>
    public double FilterMillimetresAluminium { get; }

    /// <summary>Photon energies in keV.</summary>
    public IReadOnlyList<double> EnergiesKeV { get; }

    /// <summary>Share of each line in the signal behind air; they sum to 1.</summary>
    public IReadOnlyList<double> Weights { get; }

    /// <summary>Makes a beam.</summary>
    /// <param name="kilovolts">Tube voltage in kV, 50 to 69.</param>
    /// <param name="filterMillimetresAluminium">Total filter in mm of aluminium.</param>
    /// <param name="lines">How many lines.</param>
    public static Spectrum Filtered(double kilovolts, double filterMillimetresAluminium, int lines)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(kilovolts, 50);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(kilovolts, 69);
        var energies = new double[lines];
        var weights = new double[lines];
        for (var i = 0; i < lines; i++)
        {
            var energy = 20 + ((kilovolts - 20) * (i + 0.5) / lines);
            energies[i] = energy;
            var photons = (kilovolts - energy) / energy
                * Math.Exp(-filterMillimetresAluminium * Materials.Aluminium.PerMillimetre(energy));
            weights[i] = photons * energy;
        }

        var sum = weights.Sum();
        return new Spectrum(kilovolts, filterMillimetresAluminium, energies, [.. weights.Select(weight => weight / sum)]);
    }

    /// <summary>Share of the signal that passes a stack of materials, 0 to 1.</summary>
    /// <param name="layers">Materials and their thickness along the ray in mm.</param>
    public double Transmitted(params ReadOnlySpan<(Material Material, double Millimetres)> layers)
    {
        double sum = 0;
        for (var i = 0; i < EnergiesKeV.Count; i++)
        {
            double exponent = 0;
            foreach (var (material, millimetres) in layers)
            {
                exponent += material.PerMillimetre(EnergiesKeV[i]) * millimetres;
            }

            sum += Weights[i] * Math.Exp(-exponent);
        }

        return sum;
    }

    /// <summary>The thickness of aluminium in mm that passes as much as the given thickness of a material: how radiopacity is measured.</summary>
    /// <param name="material">The material.</param>
    /// <param name="millimetres">Its thickness in mm.</param>
    public double AluminiumEquivalent(Material material, double millimetres)
    {
        var target = Transmitted((material, millimetres));
        double low = 0;
        double high = 400 * millimetres;
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            if (Transmitted((Materials.Aluminium, middle)) > target)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return (low + high) / 2;
    }
}
