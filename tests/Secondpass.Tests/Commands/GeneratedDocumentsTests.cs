using System.Text.RegularExpressions;
using Secondpass.App.Commands;
using Secondpass.Domain.Evidence;
using Secondpass.Job.Documents;

namespace Secondpass.Tests.Commands;

public sealed class GeneratedDocumentsTests(SimulatedCase films) : IClassFixture<SimulatedCase>
{
    [Theory]
    [InlineData("evidence", "docs/evidence.md")]
    [InlineData("guide", "docs/guide/command-line.md")]
    public void The_page_in_docs_is_the_one_that_the_program_gives(string topic, string path) =>
        Assert.True(
            Repository.Text(path.Split('/')) == CalledProgram.With("describe", topic).Output,
            $"Write it again: ./secondpass describe {topic} > {path}");

    [Fact]
    public void Every_constant_says_what_it_is_in_which_unit_and_why() => Assert.All(
        EvidenceList.Gathered().SelectMany(group => group.Constants),
        constant =>
        {
            Assert.NotEmpty(constant.Name.Trim());
            Assert.NotEmpty(constant.Unit.Trim());
            Assert.True(constant.Source.Trim().Length > 10, $"{constant.Name}: “{constant.Source}” is no source and no reason.");
        });

    [Fact]
    public void The_list_of_constants_holds_those_that_are_fields_and_those_that_are_properties()
    {
        var page = CalledProgram.With("describe", "evidence").Output;

        Assert.Contains(FilmReading.GreatestSide.Name, page, StringComparison.Ordinal);
        Assert.Contains(MarkedCanals.RightAngleSag.Name, page, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_example_in_the_guide_works()
    {
        var calls = Regex.Matches(Repository.Text("docs", "guide", "command-line.md"), @"^\$ \./secondpass (.+)$", RegexOptions.Multiline)
            .Select(match => match.Groups[1].Value.Trim())
            .ToArray();

        Assert.Equal(Verbs.All.Sum(verb => verb.Examples.Count), calls.Length);
        Assert.All(calls, call =>
        {
            var called = CalledProgram.With([.. call.Split(' ').Select(word => word.Contains('.', StringComparison.Ordinal) ? films.At(word) : word)]);
            Assert.True(called.ExitCode == 0, $"{call}: {called.Error}{called.Output}");
            Assert.NotEmpty(called.Output);
        });
        Assert.All(calls.Select(call => call.Split("--picture ")).Where(parts => parts.Length > 1), parts => Assert.True(File.Exists(films.At(parts[1]))));
    }

    [Fact]
    public void The_case_in_the_guide_is_one_that_is_read()
    {
        var text = Regex.Match(Repository.Text("docs", "guide", "command-line.md"), "```json\n(.*?)```", RegexOptions.Singleline).Groups[1].Value;

        Assert.Equal(["MB1", "MB2", "P"], CaseReader.Read(System.Text.Encoding.UTF8.GetBytes(text)).Value.Canals.SelectMany(canal => canal.SelfAndBelow()).Select(canal => canal.Name));
    }
}
