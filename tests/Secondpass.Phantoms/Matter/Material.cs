namespace Secondpass.Phantoms.Matter;

/// <summary>A substance as the X-rays see it: density and mass fractions of its elements.</summary>
public sealed class Material
{
    /// <summary>Makes a material.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="gramsPerCubicCentimetre">Density in g/cm³.</param>
    /// <param name="massFractions">Mass fraction of each element; scaled to sum to 1.</param>
    public Material(string name, double gramsPerCubicCentimetre, params ReadOnlySpan<(Element Element, double Fraction)> massFractions)
    {
        Name = name;
        GramsPerCubicCentimetre = gramsPerCubicCentimetre;
        double sum = 0;
        foreach (var part in massFractions)
        {
            sum += part.Fraction;
        }

        var merged = new Dictionary<Element, double>();
        foreach (var part in massFractions)
        {
            merged[part.Element] = merged.GetValueOrDefault(part.Element) + (part.Fraction / sum);
        }

        MassFractions = merged;
    }

    /// <summary>Its name.</summary>
    public string Name { get; }

    /// <summary>Density in g/cm³.</summary>
    public double GramsPerCubicCentimetre { get; }

    /// <summary>Mass fraction of each element; they sum to 1.</summary>
    public IReadOnlyDictionary<Element, double> MassFractions { get; }

    /// <summary>Linear attenuation coefficient in 1/mm, by the mixture rule.</summary>
    /// <param name="energyKeV">Photon energy in keV, 20 to 80.</param>
    public double PerMillimetre(double energyKeV) =>
        MassFractions.Sum(part => part.Value * part.Key.At(energyKeV)) * GramsPerCubicCentimetre / 10;

    /// <summary>A mixture of finished materials.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="gramsPerCubicCentimetre">Density in g/cm³; null for the one that volumes adding up would give.</param>
    /// <param name="massFractions">Mass fraction of each part; scaled to sum to 1.</param>
    public static Material Mixture(string name, double? gramsPerCubicCentimetre, params ReadOnlySpan<(Material Part, double Fraction)> massFractions)
    {
        double sum = 0;
        double volume = 0;
        foreach (var (part, fraction) in massFractions)
        {
            sum += fraction;
            volume += fraction / part.GramsPerCubicCentimetre;
        }

        var elements = new List<(Element, double)>();
        foreach (var (part, fraction) in massFractions)
        {
            elements.AddRange(part.MassFractions.Select(element => (element.Key, element.Value * fraction / sum)));
        }

        return new Material(name, gramsPerCubicCentimetre ?? sum / volume, elements.ToArray());
    }
}
