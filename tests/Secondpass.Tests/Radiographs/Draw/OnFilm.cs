using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Draw;

namespace Secondpass.Tests.Radiographs.Draw;

/// <summary>An empty film of 0.03 mm pixels to draw on.</summary>
internal static class OnFilm
{
    public const double Millimetres = 0.03;

    public static Radiograph Film { get; } = new(1000, 1300, new ushort[1000 * 1300], 255, FilmFormat.Png, new string('0', 64));

    public static Calibration Scale { get; } = Calibration.From(Millimetres, CalibrationSource.Entered).Value;

    public static Answer<DrawnResult> Measure(DrawnKind kind, IReadOnlyList<PixelPoint> points, double? trueMillimetres = null, Calibration? scale = null) =>
        DrawnMeasurer.Measure(Film, scale ?? Scale, new DrawnShape(kind, points, trueMillimetres is { } length ? new Millimetres(length) : null));

    public static DrawnFigure Of(this DrawnResult result, DrawnQuantity quantity) => result.Figures.Single(figure => figure.Quantity == quantity);

    public static DrawnMeasurement Named(string name, DrawnKind kind, IReadOnlyList<PixelPoint> points, double? trueMillimetres = null, string film = "a")
    {
        var result = Measure(kind, points, trueMillimetres).Value;
        return new DrawnMeasurement(1, name, film, new DrawnShape(kind, points, trueMillimetres is { } length ? new Millimetres(length) : null), result.Scale, result.Figures);
    }

    /// <summary>Points on an ellipse about the film's middle.</summary>
    public static PixelPoint[] Ellipse(double halfLongPixels, double halfShortPixels, int count, double turnDegrees = 0)
    {
        var (sin, cos) = Math.SinCos(double.DegreesToRadians(turnDegrees));
        return
        [
            .. Enumerable.Range(0, count).Select(i =>
            {
                var (y, x) = Math.SinCos(2 * Math.PI * i / count);
                (x, y) = (x * halfLongPixels, y * halfShortPixels);
                return new PixelPoint(500 + (x * cos) - (y * sin), 600 + (x * sin) + (y * cos));
            }),
        ];
    }
}
