using Secondpass.Domain.Chairside;
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
