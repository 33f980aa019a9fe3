using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Secondpass.Tests.Architecture;

public sealed class DocumentationTests
{
    private static readonly string[] Pages =
    [
        .. Directory.EnumerateFiles(Repository.Root, "*.md"),
        .. Repository.Files("docs", "*.md"),
        .. Repository.Files("src", "*.md"),
        .. Repository.Files("demo", "*.md"),
        Repository.At("tests", "Secondpass.Phantoms", "README.md"),
    ];

    [Fact]
    public void Every_function_in_the_table_of_arrows_exists()
    {
        var named = Regex.Matches(Repository.Text("docs", "architecture.md"), @"`([A-Z]\w+)\.([A-Z]\w+)`")
            .Select(match => (Type: match.Groups[1].Value, Method: match.Groups[2].Value))
            .ToArray();

        Assert.True(named.Length >= 10, "The tables of docs/architecture.md were not found.");
        Assert.All(named, function => Assert.Contains(
            Product.Assemblies.SelectMany(assembly => assembly.GetTypes()).Where(type => type.Name == function.Type),
            type => type.GetMethods().Any(method => method.Name == function.Method)));
    }

    [Fact]
    public void Every_type_in_the_table_of_arrows_exists()
    {
        var rows = Repository.Text("docs", "architecture.md").Split('\n').Where(line => line.StartsWith("| ", StringComparison.Ordinal));
        var named = rows.SelectMany(row => Regex.Matches(row, @"`([A-Z]\w+)`").Select(match => match.Groups[1].Value)).Distinct();
        var types = Product.Assemblies.SelectMany(assembly => assembly.GetTypes()).Select(type => type.Name).ToHashSet();

        Assert.Empty(named.Except(types));
    }

    [Fact]
    public void Every_stage_of_the_job_stands_in_the_table_of_stages()
    {
        var page = Repository.Text("docs", "architecture.md");

        Assert.All(
            (string[])["ReceiveFilm", "OpenFilm", "MeasureCanals", "CompareFilms", "KeepComparison"],
            stage =>
            {
                Assert.True(File.Exists(Repository.At("src", "Secondpass.Job", $"{stage}.cs")), stage);
                Assert.Contains($"`{stage}`", page, StringComparison.Ordinal);
            });
    }

    [Theory]
    [InlineData("src", "## In the program", "## In the tests")]
    [InlineData("tests", "## In the tests", "From Debian")]
    public void The_page_of_dependencies_lists_what_the_projects_use_and_nothing_else(string folder, string from, string to)
    {
        var page = Repository.Text("docs", "dependencies.md");
        var section = page[page.IndexOf(from, StringComparison.Ordinal)..page.IndexOf(to, StringComparison.Ordinal)];
        var listed = Regex.Matches(section, @"^\| ([\w.]+) \|", RegexOptions.Multiline).Select(match => match.Groups[1].Value).Where(name => name != "package");
        var used = Repository.Files(folder, "*.csproj")
            .Concat(folder == "src" ? [Repository.At("Directory.Build.props")] : [])
            .SelectMany(PackagesOf)
            .Distinct();

        Assert.Equal(used.Order(StringComparer.Ordinal), listed.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Every_pinned_version_is_of_a_package_that_is_used()
    {
        var pinned = XDocument.Load(Repository.At("Directory.Packages.props")).Descendants("PackageVersion").Select(package => (string)package.Attribute("Include")!);
        var used = new[] { "src", "tests", "bench" }
            .SelectMany(folder => Repository.Files(folder, "*.csproj"))
            .Append(Repository.At("Directory.Build.props"))
            .SelectMany(PackagesOf);

        Assert.Empty(pinned.Except(used));
    }

    [Fact]
    public void Every_test_that_a_hazard_names_exists()
    {
        var named = Regex.Matches(Repository.Text("docs", "safety", "hazards.md"), @"`([A-Z][a-z0-9]*_\w+|[A-Z]\w*_\w+)`").Select(match => match.Groups[1].Value).ToHashSet();
        var existing = Repository.Files("tests", "*.cs")
            .SelectMany(path => Regex.Matches(File.ReadAllText(path), @"\[(?:Fact|Theory)\b.*?\bpublic (?:async )?(?:void|Task) (\w+)\(", RegexOptions.Singleline))
            .Select(match => match.Groups[1].Value)
            .ToHashSet();

        Assert.True(named.Count >= 20, "The tests of docs/safety/hazards.md were not found.");
        Assert.Empty(named.Except(existing));
    }

    [Fact]
    public void Every_hazard_has_a_cause_a_control_and_a_test()
    {
        var rows = Repository.Text("docs", "safety", "hazards.md").Split('\n').Where(line => Regex.IsMatch(line, @"^\| \d+ \|")).ToArray();

        Assert.True(rows.Length >= 5);
        Assert.All(rows, row =>
        {
            var cells = row.Trim('|').Split('|');
            Assert.Equal(5, cells.Length);
            Assert.All(cells, cell => Assert.NotEmpty(cell.Trim()));
            Assert.Contains('`', cells[4]);
        });
    }

    [Fact]
    public void Every_link_to_a_file_leads_to_one() => Assert.All(Pages, page =>
    {
        var links = Regex.Matches(File.ReadAllText(page), @"\]\((?!https?:|#)([^)#\s]+)[^)]*\)").Select(match => match.Groups[1].Value);
        var folder = Path.GetDirectoryName(page)!;
        Assert.Empty(links.Where(link => !Path.Exists(Path.Combine(folder, link))).Select(link => $"{Path.GetRelativePath(Repository.Root, page)}: {link}"));
    });

    [Fact]
    public void No_page_speaks_of_a_folder_of_the_repository_that_is_not_there() => Assert.All(Pages, page =>
    {
        var folders = Regex.Matches(File.ReadAllText(page), @"`((?:src|docs|tests|bench|demo|eng)/[\w./-]*\w)`").Select(match => match.Groups[1].Value);
        Assert.Empty(folders.Where(path => !Path.Exists(Repository.At(path))).Select(path => $"{Path.GetRelativePath(Repository.Root, page)}: {path}"));
    });

    // A film is taken because the patient needs it (docs/safety/intended-use.md).
    [Fact]
    public void No_refusal_asks_for_another_exposure()
    {
        var asks = new Regex(@"\b(re-?take|expose again|(take|make|shoot) (a |another |the |one more )?(new |second )?(film|radiograph|exposure|picture))\b", RegexOptions.IgnoreCase);
        var texts = new[] { "*.cs", "*.razor", "*.js" }.SelectMany(pattern => Repository.Files("src", pattern));

        Assert.Empty(texts
            .SelectMany(path => File.ReadLines(path).Where(line => asks.IsMatch(line) && !line.TrimStart().StartsWith("//", StringComparison.Ordinal)).Select(line => $"{Path.GetRelativePath(Repository.Root, path)}: {line.Trim()}")));
        Assert.Matches(asks, "Mark two points, or take another film.");
    }

    [Fact]
    public void Nothing_is_left_to_be_done_later_in_the_code()
    {
        var later = new Regex(@"(//|/\*|<!--|@\*|--).*\b(TODO|FIXME|HACK)\b|NotImplementedException");

        Assert.Empty(new[] { "*.cs", "*.js", "*.razor", "*.css", "*.sql" }
            .SelectMany(pattern => Repository.Files("src", pattern).Concat(Repository.Files("tests", pattern)))
            .Where(path => Path.GetFileName(path) != "DocumentationTests.cs")
            .Where(path => later.IsMatch(File.ReadAllText(path)))
            .Select(path => Path.GetRelativePath(Repository.Root, path)));
    }

    private static IEnumerable<string> PackagesOf(string path) =>
        XDocument.Load(path).Descendants("PackageReference").Select(reference => (string)reference.Attribute("Include")!);
}
