using Secondpass.App.Commands;

namespace Secondpass.Tests.Commands;

public sealed class CommandLineTests
{
    // The whole text is the promise: what was given, what was expected, what to do.
    [Theory]
    [InlineData("mesure", "secondpass: “mesure” is not a verb.\nDid you mean measure?\n")]
    [InlineData("xyzzy", "secondpass: “xyzzy” is not a verb.\nVerbs: serve, measure, compare, together, measurements, plan, verify, key, forget, describe.\n")]
    [InlineData("measure --flim a.png", "secondpass: measure: “--flim” is not an option of measure.\nDid you mean --film?\n")]
    [InlineData("measure --colour red", "secondpass: measure: “--colour” is not an option of measure.\nIts options: --film, --case, --json, --picture.\n")]
    [InlineData("measure", "secondpass: measure: --film is missing.\nWrite secondpass measure --film FILE --case FILE [--json] [--picture FILE]. --film FILE: The film: PNG, JPEG, TIFF, BMP or DICOM, known by its content.\n")]
    [InlineData("measure --film", "secondpass: measure: --film needs a value.\nWrite --film FILE: The film: PNG, JPEG, TIFF, BMP or DICOM, known by its content.\n")]
    [InlineData("measure --film --case b.json", "secondpass: measure: --film needs a value.\nWrite --film FILE: The film: PNG, JPEG, TIFF, BMP or DICOM, known by its content.\n")]
    [InlineData("measure --film a.png --film b.png", "secondpass: measure: --film is given 2 times.\nGive it once.\n")]
    [InlineData("measure a.png", "secondpass: measure: “a.png” is not expected here.\nWrite secondpass measure --film FILE --case FILE [--json] [--picture FILE].\n")]
    [InlineData("measure --film @a.png --case none.json", "secondpass: @a.png: there is no such file.\nCheck the path; put a path with spaces in quotes.\n")]
    [InlineData("compare --before a.png", "secondpass: compare: --after is missing.\nWrite secondpass compare --before FILE --after FILE [--case FILE] [--json] [--picture FILE]. --after FILE: The film after or during removal.\n")]
    [InlineData("serve --port eighty", "secondpass: serve: “eighty” is not a port.\nGive a whole number from 0 to 65535, such as --port 5180.\n")]
    [InlineData("serve --port 65536", "secondpass: serve: “65536” is not a port.\nGive a whole number from 0 to 65535, such as --port 5180.\n")]
    [InlineData("key --restore none.txt", "secondpass: none.txt: there is no such file.\nCheck the path; put a path with spaces in quotes.\n")]
    [InlineData("--prot 80", "secondpass: serve: “--prot” is not an option of serve.\nDid you mean --port?\n")]
    [InlineData("describe", "secondpass: describe: TOPIC is missing.\nWrite secondpass describe TOPIC [NAME]. TOPIC: evidence: every constant with its source; guide: this command line; schema: the JSON schema of a document.\n")]
    [InlineData("describe shema", "secondpass: describe: “shema” is not a topic that can be described.\nDid you mean schema? Known: evidence, guide, schema.\n")]
    [InlineData("describe schema masure", "secondpass: describe: “masure” is not a document that can be described.\nDid you mean measure? Known: case, measure, compare, together, plan, drawing, measurements, verify, refusal.\n")]
    [InlineData("describe guide case", "secondpass: describe: “case” is not expected behind guide.\nWrite secondpass describe guide.\n")]
    public void Wrong_use_is_answered_with_the_word_what_was_expected_and_exit_code_2(string call, string expected)
    {
        var called = CalledProgram.With(call.Split(' '));

        Assert.Equal(expected, called.Error);
        Assert.Equal(2, called.ExitCode);
        Assert.Empty(called.Output);
    }

    [Fact]
    public void Help_names_every_verb_and_exit_code()
    {
        var called = CalledProgram.With("--help");

        Assert.Equal(0, called.ExitCode);
        Assert.All(Verbs.All, verb => Assert.Contains($"  {verb.Name} ", called.Output, StringComparison.Ordinal));
        Assert.All([0, 1, 2, 3], code => Assert.Contains($"\n  {code}  ", called.Output, StringComparison.Ordinal));
        Assert.Contains("not a certified medical device", called.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Help_on_a_verb_names_every_word_and_option_whatever_else_is_wrong() => Assert.All(Verbs.All, verb =>
    {
        var called = CalledProgram.With(verb.Name, "--nonsense", "--help");

        Assert.Equal(0, called.ExitCode);
        Assert.Contains(verb.Usage, called.Output, StringComparison.Ordinal);
        Assert.All(verb.Options.Select(option => option.Usage).Concat(verb.Words.Select(word => word.Name)), name =>
            Assert.Contains($"\n  {name}", called.Output, StringComparison.Ordinal));
        Assert.Equal(called.Output, CalledProgram.With("help", verb.Name).Output);
    });

    [Fact]
    public void No_line_of_help_is_wider_than_a_terminal_of_100_columns() => Assert.All(
        Verbs.All.Select(verb => HelpText.Of(verb)).Append(HelpText.Of(Verbs.All)),
        help => Assert.All(help.Split('\n'), line => Assert.True(line.Length <= 100, line)));

    [Fact]
    public void The_version_is_that_of_the_program() =>
        Assert.Matches(@"^secondpass \d+\.\d+\.\d+\n$", CalledProgram.With("--version").Output);

    [Fact]
    public void A_defect_is_one_line_without_its_inside()
    {
        using var output = new BrokenStream();
        using var error = new MemoryStream();

        var code = Secondpass.App.Application.Run(["--help"], new CommandConsole(output, error));

        Assert.Equal(3, code);
        Assert.Equal(
            "secondpass: this is a fault of the program, not of your films (InvalidTimeZoneException). Your files were not changed. SECONDPASS_DETAILS=1 shows more, for a report.\n",
            System.Text.Encoding.UTF8.GetString(error.ToArray()));
    }

    // Stands for any defect: an exception that nothing expects.
    private sealed class BrokenStream : MemoryStream
    {
        public override void Write(ReadOnlySpan<byte> buffer) => throw new InvalidTimeZoneException("inside");
    }
}
