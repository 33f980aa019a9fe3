using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Compare;

/// <summary>
/// From a film's grey values to a scale on which the same thickness of filling makes the same difference everywhere.
/// </summary>
/// <remarks>
/// Sensors' programs show the logarithm of what arrives, or what arrives itself, or imitate film, and add a gamma. With x from 0 to
/// 1 over the film's range, −ln(1 − κ·x) undoes the second with κ near 1, nearly undoes film with less, and a gamma below 1 too; κ = 0
/// leaves the greys alone, and below 0 it undoes a gamma above 1.
/// </remarks>
/// <param name="Bend">κ, at most 0.96.</param>
/// <param name="Range">The film's least and greatest grey, which the scale keeps.</param>
internal readonly record struct CharacteristicCurve(double Bend, GreyRange Range)
{
    /// <summary>Where the film's brightest lies before the range is kept: every pixel asks.</summary>
    private readonly double most = Straight(1, Bend);

    /// <summary>A place x of the range from 0 to 1, straightened: its slope is 1 at 0.</summary>
    public static double Straight(double x, double bend) =>
        Math.Abs(bend) < 1e-6 ? x : -Math.Log(Math.Max(1 - (bend * x), 1e-2)) / bend;

    /// <summary>A grey value on the straight scale; the ends of the film's range stay where they are.</summary>
    public double Of(double grey) =>
        Range.Low + (Range.Span * Straight((grey - Range.Low) / Range.Span, Bend) / most);

    /// <summary>How many straight grey levels one grey level makes at a grey value.</summary>
    public double SlopeAt(double grey)
    {
        var step = 0.01 * Range.Span;
        return (Of(grey + step) - Of(grey - step)) / (2 * step);
    }

    /// <summary>The film on the straight scale.</summary>
    public GreyImage Of(GreyImage film)
    {
        var values = new float[film.Values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = (float)Of(film.Values[i]);
        }

        return new GreyImage(film.Width, film.Height, values)
        {
            WhiteFrom = float.IsFinite(film.WhiteFrom) ? (float)Of(film.WhiteFrom) : film.WhiteFrom,
        };
    }
}
