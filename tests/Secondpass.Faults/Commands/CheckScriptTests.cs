using System.Runtime.Versioning;

namespace Secondpass.Faults.Commands;

/// <summary>./check with stand-ins for the programs that it calls: that nothing that failed, was skipped or did not run can pass as green.</summary>
[UnsupportedOSPlatform("windows")]
public sealed class CheckScriptTests : IDisposable
{
    private const string StandIn = """
        echo "$* long=$SECONDPASS_LONG" >>"$CALLS"
        case $1 in
          build) exit "${BUILD_ENDS:-0}" ;;
          format) exit "${FORMAT_ENDS:-0}" ;;
          run)
            result=$(basename "$3" .csproj)
            source "$RESULTS/$result"
            [[ -z $counts ]] || echo "<assemblies schema-version=\"3\"><assembly name=\"/a b/$result.dll\" $counts time=\"0.1\"></assembly></assemblies>" >"${@: -1}"
            exit "${ends:-0}"
            ;;
        esac
        """;

    private const string Good = "errors=\"0\" failed=\"0\" not-run=\"0\" passed=\"12\" skipped=\"0\" total=\"12\"";

    private readonly ScriptFolder folder = new("check");

    public CheckScriptTests()
    {
        folder.StandIn("dotnet", StandIn);
        folder.StandIn("dpkg-query", "echo -n 'install ok installed'");
        folder.StandIn("npm", "exit \"${SCRIPTS_END:-0}\"");
        folder.StandIn("node", string.Empty);
        folder.Write("secondpass", "#!/bin/bash\n");
        File.SetUnixFileMode(folder.At("secondpass"), UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        folder.Write("tests/Library/Library.csproj", "<IsTestProject>false</IsTestProject>");
        Project("One", Good);
        Project("Two", Good);
    }

    [Fact]
    public async Task Adds_up_what_every_test_project_ran_in_the_last_line()
    {
        var ran = await Check();

        Assert.Equal((0, "24 passed, 0 failed"), (ran.ExitCode, LastLine(ran)));
        Assert.DoesNotContain(File.ReadAllLines(Calls), call => call.Contains("Library", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("errors=\"0\" failed=\"2\" not-run=\"0\" passed=\"10\" skipped=\"0\" total=\"12\"", 22, 2)]
    [InlineData("errors=\"0\" failed=\"0\" not-run=\"0\" passed=\"11\" skipped=\"1\" total=\"12\"", 23, 1)]
    [InlineData("errors=\"0\" failed=\"0\" not-run=\"3\" passed=\"9\" skipped=\"0\" total=\"12\"", 21, 3)]
    [InlineData("errors=\"1\" failed=\"0\" not-run=\"0\" passed=\"12\" skipped=\"0\" total=\"12\"", 24, 1)]
    [InlineData("errors=\"0\" failed=\"0\" not-run=\"0\" passed=\"0\" skipped=\"0\" total=\"0\"", 12, 1)]
    [InlineData("", 12, 1)]
    public async Task Failed_skipped_not_run_broken_empty_and_crashed_all_count_as_failed(string counts, int passed, int failed)
    {
        Project("Two", counts);

        var ran = await Check();

        Assert.Equal((1, string.Create(CultureInfo.InvariantCulture, $"{passed} passed, {failed} failed")), (ran.ExitCode, LastLine(ran)));
    }

    [Fact]
    public async Task A_test_project_that_ends_badly_counts_as_failed_whatever_it_counted()
    {
        Project("Two", Good, endsWith: 134);

        Assert.Equal("24 passed, 1 failed", LastLine(await Check()));
    }

    [Theory]
    [InlineData("FORMAT_ENDS")]
    [InlineData("SCRIPTS_END")]
    public async Task A_step_that_fails_counts_as_failed_and_the_tests_run_all_the_same(string step)
    {
        var ran = await Check(variables: new() { [step] = "1" });

        Assert.Equal((1, "24 passed, 1 failed"), (ran.ExitCode, LastLine(ran)));
    }

    [Fact]
    public async Task A_build_that_fails_leaves_nothing_to_test()
    {
        var ran = await Check(variables: new() { ["BUILD_ENDS"] = "1" });

        Assert.Equal((1, "0 passed, 1 failed"), (ran.ExitCode, LastLine(ran)));
        Assert.DoesNotContain(File.ReadAllLines(Calls), call => call.StartsWith("run", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_start_script_that_fails_counts_as_failed()
    {
        folder.Write("secondpass", "#!/bin/bash\nexit 3\n");

        Assert.Equal("24 passed, 1 failed", LastLine(await Check()));
    }

    [Fact]
    public async Task No_test_project_at_all_is_a_failure()
    {
        Directory.Delete(folder.At("tests"), recursive: true);
        folder.Write("tests/Library/Library.csproj", "<IsTestProject>false</IsTestProject>");

        Assert.Equal("0 passed, 1 failed", LastLine(await Check()));
    }

    [Fact]
    public async Task An_older_result_is_not_taken_for_a_new_one()
    {
        await Check();
        Project("Two", string.Empty, endsWith: 1);

        Assert.Equal("12 passed, 1 failed", LastLine(await Check()));
    }

    [Fact]
    public async Task The_long_campaigns_run_only_when_asked_for()
    {
        await Check();
        Assert.All(Runs(), call => Assert.EndsWith(" long=", call, StringComparison.Ordinal));

        File.Delete(Calls);
        await Check("--long");
        Assert.All(Runs(), call => Assert.EndsWith(" long=1", call, StringComparison.Ordinal));
    }

    [Fact]
    public async Task An_unknown_option_runs_nothing()
    {
        var ran = await Check("--fast");

        Assert.Equal((2, string.Empty, "check: “--fast” is not known; there is only --long.\n"), (ran.ExitCode, ran.Output, ran.Error));
    }

    public void Dispose() => folder.Dispose();

    private string Calls => folder.At("..", "calls");

    private static string LastLine(Ran ran) => ran.Output.TrimEnd('\n').Split('\n')[^1];

    private IEnumerable<string> Runs() => File.ReadAllLines(Calls).Where(call => call.StartsWith("run", StringComparison.Ordinal));

    private void Project(string name, string counts, int endsWith = 0)
    {
        folder.Write($"tests/{name}/{name}.csproj", "<IsTestProject>true</IsTestProject>");
        folder.Write($"../results/{name}", $"counts='{counts}'\nends={endsWith.ToString(CultureInfo.InvariantCulture)}\n");
    }

    private Task<Ran> Check(string? option = null, Dictionary<string, string>? variables = null) => Ran.Bash(
        "bash ./check \"$@\"",
        folder.Root,
        option is null ? [] : [option],
        folder.Programs,
        new Dictionary<string, string>(variables ?? []) { ["CALLS"] = Calls, ["RESULTS"] = folder.At("..", "results") });
}
