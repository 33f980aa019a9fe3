using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Evidence;

/// <summary>How materials of the tooth appear on a film.</summary>
public static class FilmPhysics
{
    /// <summary>Radiopacity of gutta-percha points, in mm of aluminium per mm; dentine is about 1.</summary>
    public static Sourced<double> GuttaPerchaRadiopacity { get; } = new(
        "Radiopacity of gutta-percha points (dentine: 1.0)",
        7.3,
        "mm Al per mm",
        new Interval(7.26, 7.53),
        "Katz et al., J Endod 1990;16:211–213: 15 makes, 7.26 (D film) and 7.53 (E film)",
        Standing.Published);

    /// <summary>
    /// Grey lost over grey contrast where a filling is wholly removed: the filling stood out from dentine by 7.3 − 1, and
    /// leaves a canal that is darker than dentine by 1 when dry, by less when wet. Widening is reckoned with apart.
    /// </summary>
    public static Sourced<double> EmptiedOverContrast { get; } = new(
        "Grey lost over contrast where a filling is wholly removed",
        1.17,
        "1",
        new Interval(1.11, 1.23),
        "7.3 / (7.3 − 1) = 1.16 for a dry canal after Katz et al. 1990; 1.13 for one full of water, which attenuates 0.17 of what aluminium does at 40 keV (NISTIR 5632); 1.20 for a make of 6 mm of aluminium per mm; thick filling hardens the beam, which raises it. The range is two deviations of 0.03, the least that covers the simulated makes (organic part and barium sulfate after Braz Oral Res 2005;19:193–197)",
        Standing.Derived);
}
