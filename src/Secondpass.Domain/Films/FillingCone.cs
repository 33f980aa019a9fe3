using Secondpass.Domain.Evidence;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>The cone that a filling's widths near its end fit: which size and taper it would be, as projected on one film.</summary>
/// <param name="EndWidthMillimetres">Width of the cone at the filling's end, in mm.</param>
/// <param name="TaperMillimetresPerMillimetre">How much wider it gets, in mm per mm: 0.04 is written .04.</param>
/// <param name="OverMillimetres">Length of filling that was fitted, in mm.</param>
public sealed record FillingCone(Estimate EndWidthMillimetres, Estimate TaperMillimetresPerMillimetre, double OverMillimetres)
{
    /// <summary>The size of ISO 3630-1 whose tip is nearest to the cone's width at its end, in hundredths of a millimetre.</summary>
    public int NearestSize => InstrumentFacts.StandardSizes.Value.Sizes.MinBy(size => Math.Abs(size - (100 * EndWidthMillimetres.Value)));
}
