using System.Text;
using Secondpass.Exchange.Csv;

namespace Secondpass.Tests.Exchange.Csv;

public sealed class CsvTableTests
{
    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+49 30", "'+49 30")]
    [InlineData("-2", "'-2")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("  =1+1", "'  =1+1")]
    [InlineData("＝1+1", "'＝1+1")]
    [InlineData("\t=1+1", "'\t=1+1")]
    [InlineData("MB = 1", "MB = 1")]
    [InlineData("=HYPERLINK(\"x\",\"y\")", "\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\"")]
    public void A_name_never_becomes_a_formula_on_somebody_else_s_machine(string name, string written) =>
        Assert.Equal($"name\r\n{written}\r\n", Text(["name"], [name]));

    [Theory]
    [InlineData("a, b", "\"a, b\"")]
    [InlineData("a “b” c", "a “b” c")]
    [InlineData("a \"b\"", "\"a \"\"b\"\"\"")]
    [InlineData("two\nlines", "\"two\nlines\"")]
    public void Commas_quotes_and_line_ends_stay_in_their_cell(string name, string written) =>
        Assert.Equal($"name\r\n{written}\r\n", Text(["name"], [name]));

    [Fact]
    public void Numbers_have_a_point_whatever_the_machine_writes_and_a_negative_one_is_still_a_number()
    {
        var before = CultureInfo.CurrentCulture;
        var commas = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        commas.NumberFormat.NumberDecimalSeparator = ",";
        CultureInfo.CurrentCulture = commas;
        try
        {
            Assert.Equal("length (mm),nothing\r\n-1234.5,\r\n", Text(["length (mm)", "nothing"], [-1234.5, (double?)null]));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void Begins_with_the_mark_by_which_a_spreadsheet_knows_its_letters() =>
        Assert.Equal([0xEF, 0xBB, 0xBF], CsvTable.Write(["a"], [])[..3]);

    private static string Text(string[] header, params CsvCell[] row) => Encoding.UTF8.GetString(CsvTable.Write(header, [row]))[1..];
}
