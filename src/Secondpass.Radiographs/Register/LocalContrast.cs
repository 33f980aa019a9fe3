using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Register;

/// <summary>An image relative to its own surroundings: what two exposures of the same thing share whatever their brightness and gamma.</summary>
internal static class LocalContrast
{
    /// <summary>Each pixel minus the mean around it, over the spread around it.</summary>
    /// <param name="image">Grey values.</param>
    /// <param name="reach">Half the window, in pixels.</param>
    public static GreyImage Of(GreyImage image, int reach)
    {
        var mean = Smooth.Mean(image, reach);
        var deviation = new GreyImage(image.Width, image.Height);
        for (var i = 0; i < deviation.Values.Length; i++)
        {
            var away = image.Values[i] - mean.Values[i];
            deviation.Values[i] = away * away;
        }

        var spread = Smooth.Mean(deviation, reach);
        var floor = (float)Math.Max(1e-6, 0.35 * Math.Sqrt(Ranks.OfImage(spread, [0.5])[0]));
        var result = new GreyImage(image.Width, image.Height);
        for (var i = 0; i < result.Values.Length; i++)
        {
            result.Values[i] = Math.Clamp(
                (image.Values[i] - mean.Values[i]) / (MathF.Sqrt(Math.Max(0, spread.Values[i])) + floor),
                -3f,
                3f);
        }

        return result;
    }
}
