using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Films;

/// <summary>A length corrected for foreshortening.</summary>
/// <param name="LengthMillimetres">The length with its 95 % interval, in mm.</param>
/// <param name="Lost">How much the film showed too little.</param>
/// <param name="Wider">How much farther the interval reaches to either side than that of the length as seen.</param>
public sealed record CorrectedLength(Estimate LengthMillimetres, Millimetres Lost, Millimetres Wider);
