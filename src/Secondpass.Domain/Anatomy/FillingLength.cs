using Secondpass.Domain.Cases;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Anatomy;

/// <summary>Whether a filling's end is adequate, short or beyond.</summary>
public static class FillingLength
{
    /// <summary>The class of a filling's end.</summary>
    /// <param name="fillingEndToCanalEnd">From the filling's end to the canal's end: short positive, beyond negative. 0 to 2.0 mm is adequate (<see cref="FilmSigns.AdequateShortOfEnd"/>).</param>
    /// <returns><see cref="CanalFilling.Filled"/>, <see cref="CanalFilling.ShortOfEnd"/> or <see cref="CanalFilling.BeyondEnd"/>.</returns>
    public static CanalFilling Classify(Millimetres fillingEndToCanalEnd) => fillingEndToCanalEnd.Value switch
    {
        < 0 => CanalFilling.BeyondEnd,
        var shortOfEnd when shortOfEnd <= FilmSigns.AdequateShortOfEnd.Value => CanalFilling.Filled,
        _ => CanalFilling.ShortOfEnd,
    };
}
