using Secondpass.Domain.Chairside;

namespace Secondpass.Tests.Domain.Chairside;

public sealed class ChairsideRecordTests
{
    private static readonly MomentMarked Access = At(0, ChairsideMark.Access);
    private static readonly MomentMarked Start = At(5, ChairsideMark.RemovalStart);
    private static readonly MomentMarked Earlier = At(3, ChairsideMark.RemovalStart);

    [Fact]
    public void A_correction_takes_the_place_of_the_entry_and_both_are_kept()
    {
        var read = ChairsideRecord.Read([Access, Start, Correction(2, Earlier)]);

        Assert.Equal(new NumberedEntry(2, Start, Earlier, "typed too late"), read[1]);
        Assert.Equal([Access, Earlier], ChairsideRecord.OfVisit([Access, Start, Correction(2, Earlier)], 1));
    }

    [Fact]
    public void An_entry_that_does_not_hold_stays_on_the_record_and_counts_no_more()
    {
        ChairsideEntry[] entries = [Access, Start, Correction(2, null)];

        Assert.Null(ChairsideRecord.Read(entries)[1].Holds);
        Assert.Equal(Start, ChairsideRecord.Read(entries)[1].Written);
        Assert.Equal([Access], ChairsideRecord.OfVisit(entries, 1));
    }

    [Fact]
    public void Withdrawing_a_correction_brings_the_entry_back()
    {
        var read = ChairsideRecord.Read([Access, Start, Correction(2, null), Correction(3, null)]);

        Assert.Equal(new NumberedEntry(2, Start, Start, null), read[1]);
    }

    [Fact]
    public void A_correction_of_a_correction_holds_for_the_entry_itself()
    {
        var latest = At(4, ChairsideMark.RemovalStart);

        var read = ChairsideRecord.Read([Access, Start, Correction(2, Earlier), Correction(3, latest)]);

        Assert.Equal(latest, read[1].Holds);
        Assert.Equal(2, read.Count);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(3)]
    [InlineData(9)]
    public void A_correction_of_what_is_not_there_changes_nothing(int number)
    {
        var read = ChairsideRecord.Read([Access, Start, Correction(number, null)]);

        Assert.All(read, entry => Assert.Equal(entry.Written, entry.Holds));
    }

    [Fact]
    public void Two_visits_are_told_apart()
    {
        var second = new MomentMarked(2, Access.At.AddDays(7), ChairsideMark.Access, null);

        Assert.Equal([second], ChairsideRecord.OfVisit([Access, second], 2));
    }

    private static MomentMarked At(double minute, ChairsideMark mark) => new(1, new DateTimeOffset(2026, 3, 4, 9, 0, 0, TimeSpan.Zero).AddMinutes(minute), mark, null);

    private static EntryCorrected Correction(int number, ChairsideEntry? instead) => new(1, Start.At.AddMinutes(30), number, "typed too late", instead);
}
