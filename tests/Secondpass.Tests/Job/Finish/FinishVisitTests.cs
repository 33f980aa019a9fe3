using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Finish;
using Secondpass.Tests.Exchange.Letters;
using Secondpass.Tests.Job.Chairside;

namespace Secondpass.Tests.Job.Finish;

public sealed class FinishVisitTests : IDisposable
{
    private readonly ChairsideStore given = new();
    private readonly FinishVisit finish;

    public FinishVisitTests() => finish = new FinishVisit(given.Store);

    public void Dispose() => given.Dispose();

    [Fact]
    public void A_note_comes_back_into_the_form_as_it_was_kept()
    {
        given.Note(new FinishNoted(1, InventedLetter.Finish));

        Assert.True(finish.Finish(given.Id, FinishForm.Of(given.Case, 1), given.By).IsGiven);

        var (kept, first) = (given.Case.Finishes[1], InventedLetter.Finish);
        Assert.Equal(first.Irrigants, kept.Irrigants);
        Assert.Equal(first.Canals, kept.Canals);
        Assert.Equal(first with { Irrigants = [], Canals = [] }, kept with { Irrigants = [], Canals = [] });
    }

    [Fact]
    public void A_new_note_names_the_canals_that_are_treated() =>
        Assert.Equal(["MB1", "MB2", "DB"], FinishForm.Of(given.Case, 1).Canals.Select(line => line.Canal));

    [Fact]
    public void A_working_length_read_at_the_chair_is_filled_in_with_where_it_was_noted_said_beside_it()
    {
        given.Note(Step(15, "MB1", LengthEnd.FileStop, 17), Step(20, "MB1", LengthEnd.WorkingLength, 19.5), Step(25, "MB1", LengthEnd.FileStop, 18), Step(30, "DB", LengthEnd.FileStop, 16));

        var lines = FinishForm.Of(given.Case, 1).Canals;

        Assert.Equal([("19.5", "mesiobuccal cusp"), (null, null), (null, null)], lines.Select(line => (line.WorkingLength, line.ReferencePoint)));
        Assert.Equal(["Noted at the chair in visit 1: working length 19.5 mm from the mesiobuccal cusp, by length meter."], Words("MB1"));
        Assert.Equal(
            ["No working length is noted. Last depth at the chair, visit 1: 16.0 mm from the mesiobuccal cusp, to the point where the file stopped, by length meter."],
            Words("DB"));
        Assert.Empty(Words("MB2"));
    }

    [Fact]
    public void A_working_length_is_not_filled_in_once_its_reference_point_is_reduced()
    {
        given.Note(Step(20, "MB1", LengthEnd.WorkingLength, 19.5), new ReferencePointLost("mesiobuccal cusp", "reduced by 1 mm"));

        Assert.Null(FinishForm.Of(given.Case, 1).Canals[0].WorkingLength);
    }

    [Fact]
    public void A_planned_final_size_is_shown_and_never_noted_as_the_file_that_was_the_last()
    {
        var final = new CanalChoice(null, new FinalSize(35, 0.04));
        given.Note(
            new PlanChosen(new RemovalPlan("ours", [], [], []), new PlanSettings(new Dictionary<string, CanalChoice> { ["MB1"] = final, ["DB"] = final }, null, ResinFollows: false)),
            InventedLetter.At(20, ChairsideMark.LengthReached, "MB1"),
            InventedLetter.At(40, ChairsideMark.ShapingEnd));

        Assert.All(FinishForm.Of(given.Case, 1).Canals, line => Assert.Null(line.MasterApicalFile));
        Assert.Equal(["Final size planned: 35/.04. A plan is not filled in: enter the file that really was the last."], Words("MB1"));
    }

    [Fact]
    public void The_note_of_a_later_visit_begins_with_the_canals_of_the_earlier_one_and_with_lengths_read_since()
    {
        given.Note(
            Step(20, "MB1", LengthEnd.WorkingLength, 20),
            Step(20, "MB2", LengthEnd.WorkingLength, 17),
            new FinishNoted(1, InventedLetter.Finish),
            Step(20, "MB2", LengthEnd.WorkingLength, 18.5) with { Visit = 2 });

        Assert.Equal(
            [("MB1", "19.5", "35/.04", "35/.04", "single cone"), ("MB2", "18.5", "30/.04", "30/.04", "single cone"), ("DB", "19.0", "30/.06", "30/.06", "single cone")],
            FinishForm.Of(given.Case, 2).Canals.Select(line => (line.Canal, line.WorkingLength, line.MasterApicalFile, line.MasterCone, line.Method)));
        Assert.Equal(
            "Finish note of visit 1: working length 19.0 mm from the distobuccal cusp, master apical file 30/.06, master cone 30/.06, filled by single cone.",
            Assert.Single(NotedOfCanal.Of(given.Case, 2, "DB").Words));
    }

    private IReadOnlyList<string> Words(string canal) => NotedOfCanal.Of(given.Case, 1, canal).Words;

    private static StepDone Step(double minute, string canal, LengthEnd to, double length) => new(
        1, InventedLetter.Nine.AddMinutes(minute), canal, "hand file 10/.02", null, null, new LengthReading(new ReferencePoint("mesiobuccal cusp", 1), to, new Millimetres(length), LengthSource.LengthMeter), null);

    [Fact]
    public void Warns_while_irrigants_are_listed()
    {
        var form = FinishForm.Of(given.Case, 1);
        (form.Irrigants[0].Name, form.Irrigants[1].Name, form.Irrigants[2].Name) = ("NaOCl", " ", "CHX");

        var warning = Assert.Single(form.Warnings);

        Assert.Equal(("NaOCl", "CHX", "Rinse all of the first out before the second, or leave one of them away."), (warning.First, warning.Second, warning.Remedy));
        Assert.Contains("J Endod 2012", warning.RestsOn, StringComparison.Ordinal);
        Assert.Equal("Common practice, no source.", Assert.Single(ShownIrrigantWarning.For(["NaOCl", "hydrogen peroxide"])).RestsOn);
    }

    [Theory]
    [InlineData("percent", "Concentration of EDTA: “x” is not a number.", "Enter 0.01 to 100 %, or leave it empty.")]
    [InlineData("name", "A line of the irrigants has figures and no name.", "Say what it was, or empty the line.")]
    [InlineData("length", "Working length of MB1: 99 mm can't be.", "Enter 1 to 40 mm, or leave it empty.")]
    [InlineData("reference", "MB1 has a working length and no reference point.", "Name the point that it was read from, such as “mesiobuccal cusp”.")]
    [InlineData("day", "The day of the restoration: “soon” is not a day.", "Enter year, month and day, such as 2026-04-01.")]
    public void What_can_not_be_is_refused_and_nothing_is_kept(string what, string reason, string remedy)
    {
        var form = FinishForm.Of(given.Case, 1);
        switch (what)
        {
            case "percent":
                (form.Irrigants[0].Name, form.Irrigants[0].Percent) = ("EDTA", "x");
                break;
            case "name":
                form.Irrigants[0].Percent = "3";
                break;
            case "length":
                form.Canals[0].WorkingLength = "99";
                break;
            case "reference":
                form.Canals[0].WorkingLength = "19,5";
                break;
            default:
                form.RestorationUntil = "soon";
                break;
        }

        var refusal = finish.Finish(given.Id, form, given.By).Refusal;

        Assert.Equal((reason, remedy), (refusal.Reason, refusal.Remedy));
        Assert.Empty(given.Case.Finishes);
    }

    [Fact]
    public void Two_who_write_at_once_are_told_of_each_other()
    {
        var form = FinishForm.Of(given.Case, 1);
        given.Note(new FinishNoted(1, InventedLetter.Finish));

        Assert.Equal("case_changed", finish.Finish(given.Id, form, given.By).Refusal.Code);
        Assert.Equal("rubber dam", given.Case.Finishes[1].Isolation);
    }
}
