using ArchUnitNET.Loader;
using ArchUnitNET.xUnitV3;
using static ArchUnitNET.Fluent.ArchRuleDefinition;

namespace Secondpass.Tests.Architecture;

public sealed class DirectionTests
{
    private static readonly Dictionary<string, string[]> MayKnow = new()
    {
        ["Domain"] = [],
        ["Radiographs"] = ["Domain"],
        ["Removal"] = ["Domain"],
        ["Records"] = ["Domain"],
        ["Exchange"] = ["Domain"],
        ["Job"] = ["Domain", "Radiographs", "Removal", "Records", "Exchange"],
        ["App"] = ["Domain", "Radiographs", "Removal", "Records", "Exchange", "Job"],
    };

    [Fact]
    public void Each_project_knows_only_those_that_it_may_know() => Assert.All(Product.Assemblies, assembly =>
    {
        var known = assembly.GetReferencedAssemblies()
            .Select(reference => reference.Name!)
            .Where(name => name.StartsWith("Secondpass.", StringComparison.Ordinal))
            .Select(name => name["Secondpass.".Length..]);

        Assert.Empty(known.Except(MayKnow[Product.ShortName(assembly)]));
    });

    [Fact]
    public void The_projects_on_disk_are_the_ones_that_have_a_direction() => Assert.Equal(
        MayKnow.Keys.Order(StringComparer.Ordinal),
        Repository.Files("src", "*.csproj").Select(path => Path.GetFileNameWithoutExtension(path)["Secondpass.".Length..]).Order(StringComparer.Ordinal));

    // What a project file allows would otherwise only show once somebody uses it.
    [Fact]
    public void Project_files_refer_to_no_project_against_the_direction_and_to_none_of_the_tests() => Assert.All(
        Repository.Files("src", "*.csproj"),
        path =>
        {
            var references = System.Xml.Linq.XDocument.Load(path).Descendants("ProjectReference").Select(reference => Path.GetFileNameWithoutExtension((string)reference.Attribute("Include")!));
            Assert.Empty(references.Select(name => name["Secondpass.".Length..]).Except(MayKnow[Path.GetFileNameWithoutExtension(path)["Secondpass.".Length..]]));
        });

    [Fact]
    public void No_type_of_the_web_is_known_below_the_application() => Assert.All(
        Product.Assemblies.Where(assembly => Product.ShortName(assembly) != "App"),
        assembly => Assert.DoesNotContain(
            assembly.GetReferencedAssemblies(),
            reference => reference.Name!.StartsWith("Microsoft.AspNetCore", StringComparison.Ordinal) || reference.Name is "System.Net.Http" or "System.Net.Sockets"));

    [Theory]
    [InlineData("Domain")]
    [InlineData("Radiographs")]
    [InlineData("Removal")]
    public void What_computes_touches_no_file_no_clock_and_no_surroundings(string project)
    {
        string[] surroundings =
        [
            "System.IO.File", "System.IO.FileInfo", "System.IO.FileStream", "System.IO.Directory", "System.IO.DirectoryInfo", "System.IO.Path",
            "System.Console", "System.TimeProvider", "System.Diagnostics.Stopwatch", "System.Diagnostics.Process",
            "System.Threading.Timer", "System.Threading.PeriodicTimer",
        ];
        string[] clocks = ["System.DateTime.get_Now", "System.DateTime.get_UtcNow", "System.DateTimeOffset.get_Now", "System.DateTimeOffset.get_UtcNow", "System.Guid.NewGuid", "System.Random.get_Shared"];
        var assembly = Product.Assemblies.Single(assembly => Product.ShortName(assembly) == project);

        Assert.Empty(Product.TypesUsedBy(assembly).Intersect(surroundings));
        Assert.Empty(Product.MembersUsedBy(assembly).Intersect(clocks));

        // How many processors there are decides how work is shared out, never what comes out; the other is written by the compiler.
        Assert.Empty(Product.MembersUsedBy(assembly)
            .Where(member => member.StartsWith("System.Environment.", StringComparison.Ordinal))
            .Except(["System.Environment.get_ProcessorCount", "System.Environment.get_CurrentManagedThreadId"]));
    }

    // That the check above can see anything at all.
    [Fact]
    public void Files_and_clocks_are_seen_where_they_are_used()
    {
        var records = Product.Assemblies.Single(assembly => Product.ShortName(assembly) == "Records");

        Assert.Contains("System.IO.File", Product.TypesUsedBy(records));
        Assert.Contains("System.TimeProvider.GetUtcNow", Product.MembersUsedBy(records));
    }

    [Fact]
    public void Pages_endpoints_and_commands_call_the_stages_of_the_job_and_nothing_behind_them()
    {
        var architecture = new ArchLoader().LoadAssemblies([.. Product.Assemblies]).Build();

        Types().That().ResideInNamespaceMatching(@"^Secondpass\.App\.(Pages|Api|Commands)(\..*)?$")
            .Should().NotDependOnAny(Types().That().ResideInNamespaceMatching(@"^Secondpass\.(Radiographs|Removal|Records|Exchange)(\..*)?$"))
            .Because("Secondpass.Job is the only place where store, models and papers meet")
            .Check(architecture);
    }
}
