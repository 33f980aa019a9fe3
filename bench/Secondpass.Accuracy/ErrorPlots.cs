using System.Text;

namespace Secondpass.Accuracy;

/// <summary>Pictures of the errors, as SVG that prints in grey.</summary>
internal static class ErrorPlots
{
    private const double Side = 320;
    private const double Gap = 70;

    /// <summary>Found against true, for mass and for area: on the line is right.</summary>
    /// <param name="panels">Title and estimates of each panel.</param>
    public static string FoundAgainstTrue(params (string Title, IReadOnlyCollection<Scored> Scored)[] panels)
    {
        var text = Begin(panels.Length, "Found against true");
        foreach (var (index, (title, scored)) in panels.Index())
        {
            Frame(text, index, title, "truly left, %", "found, %", 100, 100);
            Line(text, index, [(0, 0), (1, 1)], "#777", "4 3");
            foreach (var one in scored)
            {
                var (x, y) = Place(index, one.Truth / 100, Math.Clamp(one.Value / 100, -0.05, 1.05));
                text.AppendLine(CultureInfo.InvariantCulture, $"<circle cx=\"{x:0.0}\" cy=\"{y:0.0}\" r=\"2\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.8\"/>");
            }
        }

        return End(text);
    }

    /// <summary>Share of canals whose error is no greater than so many points: further up and left is better.</summary>
    /// <param name="panels">Title and curves of each panel; the first curve is drawn whole, the second broken.</param>
    public static string ErrorsInOrder(params (string Title, (string Name, IReadOnlyCollection<Scored> Scored)[] Curves)[] panels)
    {
        const double Greatest = 30;
        var text = Begin(panels.Length, "Errors in order");
        foreach (var (index, (title, curves)) in panels.Index())
        {
            Frame(text, index, title, "size of the error, points", "share of canals, %", Greatest, 100);
            foreach (var (number, (name, scored)) in curves.Index())
            {
                var sizes = Errors.Sizes(scored);
                Line(text, index, [(0, 0), .. sizes.Index().Where(one => one.Item <= Greatest).Select(one => (one.Item / Greatest, (one.Index + 1.0) / sizes.Length))], "#000", number == 0 ? "none" : "5 4");
                var (x, y) = Place(index, 0.45, 0.30 - (0.09 * number));
                text.AppendLine(CultureInfo.InvariantCulture, $"<path d=\"M{x:0.0} {y - 4:0.0}h28\" stroke=\"#000\" stroke-width=\"1.5\" stroke-dasharray=\"{(number == 0 ? "none" : "5 4")}\"/><text x=\"{x + 34:0.0}\" y=\"{y:0.0}\">{name}</text>");
            }
        }

        return End(text);
    }

    private static StringBuilder Begin(int panels, string title)
    {
        var (width, height) = ((panels * (Side + Gap)) + 20, Side + 80);
        return new StringBuilder()
            .AppendLine(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width:0} {height:0}\" width=\"{width:0}\" height=\"{height:0}\" font-family=\"sans-serif\" font-size=\"13\" role=\"img\">")
            .AppendLine(CultureInfo.InvariantCulture, $"<title>{title}, on simulated films</title><rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>");
    }

    private static string End(StringBuilder text) => text.AppendLine("</svg>").ToString();

    private static (double X, double Y) Place(int panel, double x, double y) =>
        (Gap + (panel * (Side + Gap)) - 10 + (x * Side), 35 + ((1 - y) * Side));

    private static void Frame(StringBuilder text, int panel, string title, string across, string up, double mostAcross, double mostUp)
    {
        var (left, top) = Place(panel, 0, 1);
        text.AppendLine(CultureInfo.InvariantCulture, $"<rect x=\"{left:0.0}\" y=\"{top:0.0}\" width=\"{Side}\" height=\"{Side}\" fill=\"none\" stroke=\"#000\"/>");
        text.AppendLine(CultureInfo.InvariantCulture, $"<text x=\"{left + (Side / 2):0.0}\" y=\"{top - 12:0.0}\" text-anchor=\"middle\" font-weight=\"bold\">{title}</text>");
        text.AppendLine(CultureInfo.InvariantCulture, $"<text x=\"{left + (Side / 2):0.0}\" y=\"{top + Side + 38:0.0}\" text-anchor=\"middle\">{across}</text>");
        text.AppendLine(CultureInfo.InvariantCulture, $"<text transform=\"translate({left - 36:0.0} {top + (Side / 2):0.0}) rotate(-90)\" text-anchor=\"middle\">{up}</text>");
        foreach (var share in new[] { 0, 0.5, 1 })
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"<text x=\"{left + (share * Side):0.0}\" y=\"{top + Side + 18:0.0}\" text-anchor=\"middle\">{share * mostAcross:0}</text>");
            text.AppendLine(CultureInfo.InvariantCulture, $"<text x=\"{left - 6:0.0}\" y=\"{top + ((1 - share) * Side) + 4:0.0}\" text-anchor=\"end\">{share * mostUp:0}</text>");
        }
    }

    private static void Line(StringBuilder text, int panel, IEnumerable<(double X, double Y)> points, string colour, string dashes)
    {
        var places = points.Select(point => Place(panel, point.X, point.Y)).Select(at => string.Create(CultureInfo.InvariantCulture, $"{at.X:0.0},{at.Y:0.0}"));
        text.AppendLine(CultureInfo.InvariantCulture, $"<polyline points=\"{string.Join(' ', places)}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"1.5\" stroke-dasharray=\"{dashes}\"/>");
    }
}
