namespace Secondpass.Radiographs.Trace;

/// <summary>
/// The shadow across a round rod: the length of ray inside it, blurred by the film. Tabulated once.
/// </summary>
internal static class BlurredCylinder
{
    private const int BlurSteps = 49;
    private const int PlaceSteps = 192;
    private const double GreatestBlur = 2.4;
    private const double GreatestPlace = 1 + (3.5 * GreatestBlur);
    private static readonly float[] Table = Build();

    /// <summary>Length of ray inside a rod of round section, blurred.</summary>
    /// <param name="offsetPixels">Distance of the ray from the rod's axis, in pixels.</param>
    /// <param name="radiusPixels">Radius of the rod, in pixels, positive.</param>
    /// <param name="blurPixels">Standard deviation of the blur, in pixels; taken as 2.4 radii when larger.</param>
    /// <returns>Length in pixels: 2·√(r² − x²) without blur.</returns>
    public static double Thickness(double offsetPixels, double radiusPixels, double blurPixels) =>
        new Rod(radiusPixels, blurPixels).Thickness(offsetPixels);

    /// <summary>Length of ray that a rod made wider by so much on each side adds, blurred, in pixels.</summary>
    /// <param name="offsetPixels">Distance of the ray from the rod's axis, in pixels.</param>
    /// <param name="radiusPixels">Radius of the rod as it was, in pixels, positive.</param>
    /// <param name="widenedPixels">What its radius grew by, in pixels.</param>
    /// <param name="blurPixels">Standard deviation of the blur, in pixels.</param>
    public static double AddedByWidening(double offsetPixels, double radiusPixels, double widenedPixels, double blurPixels) =>
        Thickness(offsetPixels, radiusPixels + widenedPixels, blurPixels) - Thickness(offsetPixels, radiusPixels, blurPixels);

    /// <summary>A rod of one size on a film of one blur, for many rays.</summary>
    internal readonly struct Rod
    {
        private readonly double radius;
        private readonly double placesPerPixel;
        private readonly int row;
        private readonly double towardsNextRow;

        /// <summary>Rows of the table that a rod wider by its own radius lies lower; 0 where the blur is taken as the greatest.</summary>
        private readonly double rowsPerRadius;

        /// <param name="radiusPixels">Radius of the rod, in pixels, positive.</param>
        /// <param name="blurPixels">Standard deviation of the blur, in pixels; taken as 2.4 radii when larger.</param>
        public Rod(double radiusPixels, double blurPixels)
        {
            var blur = Math.Min(blurPixels / radiusPixels, GreatestBlur) * ((BlurSteps - 1) / GreatestBlur);
            var below = Math.Min((int)blur, BlurSteps - 2);
            radius = radiusPixels;
            placesPerPixel = (PlaceSteps - 1) / (GreatestPlace * radiusPixels);
            row = below * PlaceSteps;
            towardsNextRow = blur - below;
            rowsPerRadius = blurPixels < GreatestBlur * radiusPixels ? blur : 0;
        }

        /// <summary>Length of ray inside the rod, blurred, in pixels.</summary>
        /// <param name="offsetPixels">Distance of the ray from the rod's axis, in pixels.</param>
        public double Thickness(double offsetPixels) => WithSlopes(offsetPixels).Thickness;

        /// <summary>The same, and how it grows per pixel of the offset and per pixel of the radius: slopes of the table between its neighbours.</summary>
        /// <param name="offsetPixels">Signed distance of the ray from the rod's axis, in pixels.</param>
        public (double Thickness, double PerOffset, double PerRadius) WithSlopes(double offsetPixels)
        {
            var place = Math.Abs(offsetPixels) * placesPerPixel;
            if (place >= PlaceSteps - 1)
            {
                return (0, 0, 0);
            }

            var below = (int)place;
            var share = place - below;
            var lower = Table.AsSpan(row + below, 2);
            var upper = Table.AsSpan(row + below + PlaceSteps, 2);
            var stepOnLower = lower[1] - lower[0];
            var onLower = lower[0] + (share * stepOnLower);
            var perRow = upper[0] + (share * (upper[1] - upper[0])) - onLower;
            var unit = onLower + (towardsNextRow * perRow);
            var perPlace = stepOnLower + (towardsNextRow * (upper[1] - upper[0] - stepOnLower));
            return (radius * unit, Math.Sign(offsetPixels) * radius * perPlace * placesPerPixel, unit - (place * perPlace) - (rowsPerRadius * perRow));
        }
    }

    private static float[] Build()
    {
        const int Samples = 96;

        // Substituting u = sin(angle) takes the rod's steep edges out of the integral.
        var angles = Enumerable.Range(0, Samples).Select(i => (((i + 0.5) / Samples) - 0.5) * Math.PI).ToArray();
        var sines = angles.Select(Math.Sin).ToArray();
        var weights = angles.Select(angle => 2 * Math.Pow(Math.Cos(angle), 2) * Math.PI / Samples).ToArray();
        var table = new float[BlurSteps * PlaceSteps];

        // Not on several cores: threads that wait for the table would be the very ones that were to fill it.
        for (var b = 0; b < BlurSteps; b++)
        {
            var blur = b * GreatestBlur / (BlurSteps - 1);
            for (var p = 0; p < PlaceSteps; p++)
            {
                var place = p * GreatestPlace / (PlaceSteps - 1);
                table[(b * PlaceSteps) + p] = (float)Blurred(place, blur, sines, weights);
            }
        }

        return table;
    }

    private static double Blurred(double place, double blur, double[] sines, double[] weights)
    {
        const double FarDeviations = 6.5;
        if (blur < 1e-6)
        {
            return place < 1 ? 2 * Math.Sqrt(1 - (place * place)) : 0;
        }

        if ((place - 1) / blur > FarDeviations)
        {
            return 0;
        }

        double sum = 0;
        for (var i = 0; i < sines.Length; i++)
        {
            var distance = (place - sines[i]) / blur;
            sum += weights[i] * Math.Exp(-0.5 * distance * distance);
        }

        return sum / (blur * Math.Sqrt(2 * Math.PI));
    }
}
