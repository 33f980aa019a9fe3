using System.Runtime.Versioning;

namespace Secondpass.Faults.Commands;

/// <summary>./secondpass with a stand-in for dotnet that notes its calls: what the script does, without minutes of building.</summary>
[UnsupportedOSPlatform("windows")]
public sealed class StartScriptTests : IDisposable
{
    private const string StandIn = """
        echo "$*" >>"$CALLS"
        case $1 in
          --version) echo "${SDK:-10.0.100}"; exit "${VERSION_FAILS:-0}" ;;
          --list-sdks) echo "8.0.100 [/somewhere]" ;;
          restore) [[ -z $NO_COMPILER_AHEAD || $* != *ReadyToRun* ]] || { echo "NU1101: no such package"; exit 1; } ;;
          publish)
            [[ -z $BROKEN_SOURCES ]] || { echo "error CS0001: broken"; exit 1; }
            sleep "${BUILD_SECONDS:-0}"
            mkdir -p "${@: -1}"
            echo program >"${@: -1}/Secondpass.App.dll"
            ;;
          *) printf '<%s>' "${@:2}"; echo; exit "${PROGRAM_ENDS:-0}" ;;
        esac
        """;

    private readonly ScriptFolder folder = new("secondpass");

    public StartScriptTests()
    {
        folder.StandIn("dotnet", StandIn);
        folder.Write("src/Secondpass.App/Program.cs", "code");
        folder.Write("src/Secondpass.App/Second.cs", "code");
        folder.Write("demo/README.md", "films");
        folder.Write("Directory.Build.props", "props");
        folder.Write("Directory.Packages.props", "props");
        folder.Write("global.json", "{}");
    }

    [Fact]
    public async Task Builds_hands_every_word_over_and_keeps_its_own_words_out_of_the_answer()
    {
        var ran = await Start(["measure", "--film", "my film.png", "", "*"]);

        Assert.Equal((0, "<measure><--film><my film.png><><*>\n"), (ran.ExitCode, ran.Output));
        Assert.Equal("Building Secondpass; this happens once, and again when its sources change ...\n", ran.Error);
        Assert.Equal(1, Builds());
    }

    [Fact]
    public async Task Gives_the_programs_own_exit_code() =>
        Assert.Equal(1, (await Start(["compare"], new() { ["PROGRAM_ENDS"] = "1" })).ExitCode);

    [Fact]
    public async Task Calls_nothing_but_the_program_when_nothing_changed()
    {
        await Start([]);
        File.WriteAllText(Calls, string.Empty);

        var ran = await Start(["--version"]);

        Assert.Empty(ran.Error);
        Assert.EndsWith("Secondpass.App.dll --version", Assert.Single(File.ReadAllLines(Calls)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("src/Secondpass.App/Program.cs")]
    [InlineData("src/Secondpass.App/New.cs")]
    [InlineData("demo/README.md")]
    [InlineData("Directory.Packages.props")]
    [InlineData("global.json")]
    public async Task Builds_again_when_something_changed(string path)
    {
        await Start([]);
        folder.Write(path, "changed");
        File.SetLastWriteTimeUtc(folder.At(path), File.GetLastWriteTimeUtc(folder.At("artifacts", "run", "current")).AddSeconds(1));

        await Start([]);

        Assert.Equal(2, Builds());
    }

    [Fact]
    public async Task Builds_again_when_a_source_is_gone()
    {
        await Start([]);
        File.Delete(folder.At("src", "Secondpass.App", "Second.cs"));

        await Start([]);

        Assert.Equal(2, Builds());
    }

    [Fact]
    public async Task Starts_through_a_link_from_another_folder()
    {
        var elsewhere = folder.At("..", "else where");
        Directory.CreateDirectory(elsewhere);
        File.CreateSymbolicLink(Path.Combine(elsewhere, "linked"), folder.At("secondpass"));
        File.CreateSymbolicLink(Path.Combine(elsewhere, "link to link"), "linked");

        var ran = await Ran.Bash("bash './link to link' --version", elsewhere, path: folder.Programs, variables: Variables());

        Assert.Equal((0, "<--version>\n"), (ran.ExitCode, ran.Output));
        Assert.True(File.Exists(folder.At("artifacts", "run", "current")));
    }

    [Fact]
    public async Task Two_starts_at_once_build_once_and_both_run()
    {
        var slow = new Dictionary<string, string> { ["BUILD_SECONDS"] = "1" };

        var both = await Task.WhenAll(Start(["one"], slow), Start(["two"], slow));

        Assert.Equal([(0, "<one>\n"), (0, "<two>\n")], both.Select(ran => (ran.ExitCode, ran.Output)));
        Assert.Equal(1, Builds());
    }

    [Fact]
    public async Task A_start_that_was_killed_while_it_built_does_not_stop_the_next_one()
    {
        await Ran.Bash("timeout --signal=KILL 0.5 bash ./secondpass one || true", folder.Root, path: folder.Programs, variables: Variables(new() { ["BUILD_SECONDS"] = "1" }));

        var ran = await Start(["two"]);

        Assert.Equal((0, "<two>\n"), (ran.ExitCode, ran.Output));
    }

    [Fact]
    public async Task Without_the_compiler_ahead_of_time_it_builds_all_the_same()
    {
        var ran = await Start(["--version"], new() { ["NO_COMPILER_AHEAD"] = "1" });

        Assert.Equal((0, "<--version>\n"), (ran.ExitCode, ran.Output));
        Assert.DoesNotContain("ReadyToRun", File.ReadAllLines(Calls).Single(call => call.StartsWith("publish", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_build_that_fails_shows_why_and_is_tried_again()
    {
        var broken = await Start(["--version"], new() { ["BROKEN_SOURCES"] = "1" });
        var mended = await Start(["--version"]);

        Assert.Equal((3, string.Empty), (broken.ExitCode, broken.Output));
        Assert.EndsWith($"error CS0001: broken\nsecondpass: the build failed; all of its output is in {Path.GetFullPath(folder.At("artifacts/run/build.log"))}\n", broken.Error, StringComparison.Ordinal);
        Assert.Equal(0, mended.ExitCode);
    }

    [Fact]
    public async Task Says_which_SDK_is_needed_when_an_older_one_is_there()
    {
        var ran = await Start([], new() { ["SDK"] = "8.0.100" });

        Assert.Equal((3, string.Empty), (ran.ExitCode, ran.Output));
        Assert.Equal("secondpass: the .NET SDK 10 or newer is needed; this machine has: 8.0.100 \nsecondpass: Install the .NET SDK 10, then start again.\n", ran.Error);
    }

    [Fact]
    public async Task Says_that_the_SDK_is_missing_when_there_is_none()
    {
        // A path with the few programs that the script calls, and no dotnet.
        foreach (var program in (string[])["bash", "dirname", "readlink", "find", "cat"])
        {
            File.CreateSymbolicLink(Path.Combine(folder.Programs, program), $"/usr/bin/{program}");
        }

        File.Delete(Path.Combine(folder.Programs, "dotnet"));
        var ran = await Ran.Bash("PATH=$1 HOME=/nowhere DOTNET_ROOT= bash ./secondpass", folder.Root, [folder.Programs]);

        Assert.Equal(3, ran.ExitCode);
        Assert.Equal("secondpass: the .NET SDK is not installed, or 'dotnet' is not on the PATH.\nsecondpass: Install the .NET SDK 10 from your system's packages or from Microsoft, then start again.\n", ran.Error);
    }

    [Fact]
    public async Task Keeps_the_newest_builds_and_removes_the_others()
    {
        for (var build = 0; build < 5; build++)
        {
            Assert.Equal(0, (await Start([])).ExitCode);
            File.Delete(folder.At("artifacts", "run", "current"));
        }

        Assert.Equal(0, (await Start([])).ExitCode);
        Assert.Equal(3, Directory.GetDirectories(folder.At("artifacts", "run"), "app-*").Length);
    }

    public void Dispose() => folder.Dispose();

    private string Calls => folder.At("..", "calls");

    private Task<Ran> Start(string[] words, Dictionary<string, string>? variables = null) =>
        Ran.Bash("bash ./secondpass \"$@\"", folder.Root, words, folder.Programs, Variables(variables));

    private Dictionary<string, string> Variables(Dictionary<string, string>? besides = null) =>
        new(besides ?? []) { ["CALLS"] = Calls };

    private int Builds() => File.ReadAllLines(Calls).Count(call => call.StartsWith("publish", StringComparison.Ordinal));
}
