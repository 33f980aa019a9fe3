using System.Xml.Linq;
using Secondpass.Exchange.Pictures;

namespace Secondpass.Tests.Exchange.Pictures;

public sealed class SvgPainterTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    [Fact]
    public void Paints_what_a_strict_content_security_policy_lets_through()
    {
        foreach (var element in Parse(Strip("MB1")).DescendantsAndSelf())
        {
            Assert.DoesNotContain(element.Name.LocalName, new[] { "style", "script", "foreignObject", "a", "use", "image" });
            Assert.DoesNotContain(element.Attributes(), attribute =>
                attribute.Name.LocalName is "style" or "href" or "id" || attribute.Name.LocalName.StartsWith("on", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Says_to_those_who_can_not_see_it_what_it_shows()
    {
        var svg = Parse(Strip("MB1"));

        Assert.Equal("img", svg.Attribute("role")?.Value);
        Assert.Equal("Canal MB1, from orifice to end", svg.Element(Svg + "title")?.Value);
        Assert.Equal(
            "MB1: 12 % of the filling left (8–17 %). Coronal third: none seen (0–3 %). Middle third: 5 % (2–9 %). Apical third: 31 % (20–44 %). "
            + "Drawn from orifice to end, width ×2; 0.03 mm per pixel, from the film's file.",
            svg.Element(Svg + "desc")?.Value);
    }

    [Fact]
    public void Takes_its_colour_from_the_page()
    {
        var colours = Parse(Strip("MB1")).Descendants()
            .SelectMany(element => element.Attributes())
            .Where(attribute => attribute.Name.LocalName is "fill" or "stroke")
            .Select(attribute => attribute.Value)
            .Distinct();

        Assert.Equal(["currentColor"], colours);
    }

    [Fact]
    public void Every_mark_can_be_found_by_a_style_sheet()
    {
        var svg = Parse(Strip("MB1"));
        var classes = svg.Elements().Where(element => element.Name.LocalName is not ("title" or "desc")).Select(element => element.Attribute("class")?.Value).ToHashSet();

        Assert.Equal("canal-strip", svg.Attribute("class")?.Value);
        Assert.DoesNotContain(null, classes);
        Assert.Superset(new HashSet<string?> { "strip-outline", "strip-residue", "strip-residue-hatch", "strip-filling-end", "strip-end", "strip-scale", "strip-third" }, classes);
    }

    [Theory]
    [InlineData("<script>", "<script>")]
    [InlineData("]]>&amp;", "]]>&amp;")]
    [InlineData("MB & \"DB\"", "MB & \"DB\"")]
    [InlineData("a\0b\u0001c", "a b c")]
    [InlineData("two\r\nlines", "two lines")]
    public void Writes_any_name_as_text(string name, string written)
    {
        var texts = Parse(Strip(name)).Elements(Svg + "text").Select(element => element.Value);

        Assert.Contains(written, texts);
    }

    [Fact]
    public void Writes_half_a_character_and_what_is_none_as_a_replacement() =>
        Assert.Contains("x\uFFFDy\uFFFDz", Parse(Strip("x\uD83Dy\uFFFFz")).Elements(Svg + "text").Select(element => element.Value));

    [Fact]
    public void Writes_numbers_alike_on_a_machine_that_writes_commas()
    {
        var german = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        german.NumberFormat.NumberDecimalSeparator = ",";
        var expected = Strip("MB1");
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = german;
        try
        {
            Assert.Equal(expected, Strip("MB1"));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static XElement Parse(string svg) => XDocument.Parse(svg).Root!;

    private static string Strip(string name) => SvgPainter.Paint(
        CanalStrip.Draw(InventedComparison.Residue(InventedComparison.Plain with { Name = name }), InventedComparison.Scale));
}
