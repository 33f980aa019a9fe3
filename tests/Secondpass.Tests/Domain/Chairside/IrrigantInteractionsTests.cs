using Secondpass.Domain.Chairside;
using Secondpass.Domain.Evidence;

namespace Secondpass.Tests.Domain.Chairside;

public sealed class IrrigantInteractionsTests
{
    [Theory]
    [InlineData("Sodium hypochlorite", IrrigantAgent.Hypochlorite)]
    [InlineData("NaOCl 3 %", IrrigantAgent.Hypochlorite)]
    [InlineData("chlorhexidine digluconate", IrrigantAgent.Chlorhexidine)]
    [InlineData("CHX", IrrigantAgent.Chlorhexidine)]
    [InlineData("17 % edta", IrrigantAgent.Edta)]
    [InlineData("Citric acid", IrrigantAgent.CitricAcid)]
    [InlineData("hydrogen peroxide", IrrigantAgent.Peroxide)]
    [InlineData("sterile saline", IrrigantAgent.Rinse)]
    [InlineData("distilled water", IrrigantAgent.Rinse)]
    [InlineData("alcohol", IrrigantAgent.Other)]
    [InlineData("", IrrigantAgent.Other)]
    public void Knows_an_irrigant_by_its_usual_names(string name, IrrigantAgent agent) => Assert.Equal(agent, IrrigantInteractions.AgentOf(name));

    // J Endod 2012, PII S0099-2399(12)00060-X for chlorhexidine and chelators; peroxide is common practice without a source.
    [Theory]
    [InlineData("Sodium hypochlorite", "Chlorhexidine", "They leave a brown precipitate that discolours and closes dentine; whether it holds para-chloroaniline is disputed.", Standing.Published)]
    [InlineData("Chlorhexidine", "Sodium hypochlorite", "They leave a brown precipitate that discolours and closes dentine; whether it holds para-chloroaniline is disputed.", Standing.Published)]
    [InlineData("EDTA", "Sodium hypochlorite", "What is left of the first takes the free chlorine that hypochlorite works by.", Standing.Published)]
    [InlineData("Citric acid", "Sodium hypochlorite", "What is left of the first takes the free chlorine that hypochlorite works by.", Standing.Published)]
    [InlineData("Sodium hypochlorite", "Citric acid", "Acid sets chlorine gas free from the hypochlorite that is left.", Standing.Published)]
    [InlineData("Sodium hypochlorite", "Hydrogen peroxide", "They set oxygen free: foam and pressure in the canal, and both are spent.", Standing.CommonPractice)]
    [InlineData("Hydrogen peroxide", "Sodium hypochlorite", "They set oxygen free: foam and pressure in the canal, and both are spent.", Standing.CommonPractice)]
    [InlineData("EDTA", "Chlorhexidine", "They leave a precipitate of the two.", Standing.Published)]
    [InlineData("Chlorhexidine", "EDTA", "They leave a precipitate of the two.", Standing.Published)]
    public void Warns_of_two_that_should_not_meet_in_the_order_they_were_used(string first, string second, string happens, Standing standing)
    {
        var warning = Assert.Single(Warnings(first, second));

        Assert.Equal((first, second, happens, standing), (warning.First, warning.Second, warning.Happens, warning.RestsOn.Standing));
        Assert.NotEmpty(warning.Remedy);
    }

    [Theory]
    [InlineData("Sodium hypochlorite")]
    [InlineData("Sodium hypochlorite", "EDTA")]
    [InlineData("Sodium hypochlorite", "Sodium hypochlorite")]
    [InlineData("EDTA", "Saline", "Sodium hypochlorite")]
    [InlineData("Sodium hypochlorite", "Water", "Hydrogen peroxide")]
    [InlineData("Citric acid", "Chlorhexidine")]
    public void Is_silent_where_nothing_is_known_or_one_was_rinsed_out(params string[] names) => Assert.Empty(Warnings(names));

    [Fact]
    public void A_rinse_never_makes_hypochlorite_and_chlorhexidine_safe()
    {
        var warning = Assert.Single(Warnings("Sodium hypochlorite", "Saline", "Chlorhexidine"));

        Assert.True(warning.RinsedBetween);
        Assert.Equal("A rinse is noted between them; nothing published says that it is enough. Look for a brown film.", warning.Remedy);
    }

    [Fact]
    public void Something_else_in_between_is_no_rinse()
    {
        var warnings = Warnings("Sodium hypochlorite", "EDTA", "Chlorhexidine");

        Assert.Equal([("EDTA", "Chlorhexidine"), ("Sodium hypochlorite", "Chlorhexidine")], warnings.Select(warning => (warning.First, warning.Second)));
    }

    [Fact]
    public void Says_each_thing_once_and_the_worse_one_where_there_are_two() =>
        Assert.False(Assert.Single(Warnings("Sodium hypochlorite", "Saline", "Chlorhexidine", "Sodium hypochlorite", "Chlorhexidine"), warning => warning.First == "Sodium hypochlorite").RinsedBetween);

    private static IReadOnlyList<IrrigantWarning> Warnings(params string[] names) =>
        IrrigantInteractions.Of([.. names.Select(name => new IrrigantUse(name, null, null, null, null))]);
}
