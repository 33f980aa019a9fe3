namespace Secondpass.Domain.Films;

/// <summary>The shade that a file asks each grey value to be shown with, where that is no straight line. Looking only: nothing measured depends on it.</summary>
/// <param name="Shades">From black, 0, to white, 255: one for each grey value from 0 to the film's greatest.</param>
public sealed record GreyCurve(ReadOnlyMemory<byte> Shades);
