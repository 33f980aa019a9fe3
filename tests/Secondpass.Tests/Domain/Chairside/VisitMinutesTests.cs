using CsCheck;
using Secondpass.Domain.Chairside;

namespace Secondpass.Tests.Domain.Chairside;

public sealed class VisitMinutesTests
{
    private static readonly string?[] Canals = [null, "MB1", "P"];
    private static readonly DateTimeOffset Nine = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);

    // A molar as it goes: two canals, a film and a search for a canal in between.
    private static readonly ChairsideEntry[] Molar =
    [
        At(0, ChairsideMark.Seated),
        At(8, ChairsideMark.Access),
        At(20, ChairsideMark.HandsOff),
        At(23, ChairsideMark.HandsOn),
        At(26, ChairsideMark.RemovalStart, "P"),
        At(28, ChairsideMark.LengthReached, "P"),
        At(29, ChairsideMark.RemovalComplete, "P"),
        At(29.5, ChairsideMark.RemovalStart, "MB1"),
        At(31, ChairsideMark.LengthReached, "MB1"),
        At(31.5, ChairsideMark.HandsOff),
        At(34.5, ChairsideMark.HandsOn),
        At(36, ChairsideMark.RemovalComplete, "MB1"),
        At(66, ChairsideMark.ShapingEnd),
        At(90, ChairsideMark.Left),
    ];

    [Fact]
    public void Counts_hands_on_and_clock_minutes_of_every_phase_by_its_marks()
    {
        var minutes = VisitMinutes.Of(Molar, 1);

        Assert.Equal(new PhaseMinutes(VisitPhase.Access, 18, 15, null), minutes[VisitPhase.Access]);
        Assert.Equal(new PhaseMinutes(VisitPhase.ToLength, 5, 5, null), minutes[VisitPhase.ToLength]);
        Assert.Equal(new PhaseMinutes(VisitPhase.Removal, 10, 7, null), minutes[VisitPhase.Removal]);
        Assert.Equal(new PhaseMinutes(VisitPhase.Shaping, 30, 30, null), minutes[VisitPhase.Shaping]);
        Assert.Equal(new PhaseMinutes(VisitPhase.Treatment, 58, 52, null), minutes[VisitPhase.Treatment]);
        Assert.Equal(new PhaseMinutes(VisitPhase.Chair, 90, null, "Time in the chair is told by the clock only."), minutes[VisitPhase.Chair]);
    }

    [Fact]
    public void Counts_one_canal_from_its_own_marks_with_the_pauses_of_all()
    {
        var minutes = VisitMinutes.OfCanal(Molar, 1, "MB1");

        Assert.Equal(new PhaseMinutes(VisitPhase.Removal, 6.5, 3.5, null), minutes[VisitPhase.Removal]);
        Assert.Equal(new PhaseMinutes(VisitPhase.ToLength, 1.5, 1.5, null), minutes[VisitPhase.ToLength]);
        Assert.Equal("“access begins” is not marked.", minutes[VisitPhase.Access].Remark);
    }

    [Theory]
    [InlineData(ChairsideMark.Access, VisitPhase.Access, "“access begins” is not marked.")]
    [InlineData(ChairsideMark.LengthReached, VisitPhase.ToLength, "“length reached” is not marked.")]
    [InlineData(ChairsideMark.ShapingEnd, VisitPhase.Shaping, "“shaping ended” is not marked.")]
    [InlineData(ChairsideMark.ShapingEnd, VisitPhase.Treatment, "“shaping ended” is not marked.")]
    [InlineData(ChairsideMark.Left, VisitPhase.Chair, "“patient leaves” is not marked.")]
    public void A_mark_that_is_missing_is_named_and_nothing_is_guessed(ChairsideMark missing, VisitPhase phase, string remark)
    {
        var minutes = VisitMinutes.Of([.. Molar.Where(entry => ((MomentMarked)entry).Mark != missing)], 1);

        Assert.Equal(new PhaseMinutes(phase, null, null, remark), minutes[phase]);
        Assert.NotNull(minutes[VisitPhase.Removal].ElapsedMinutes);
    }

    [Fact]
    public void Removal_is_not_over_while_it_is_still_open_in_a_canal()
    {
        var minutes = VisitMinutes.Of([.. Molar.Where(entry => entry is not MomentMarked { Mark: ChairsideMark.RemovalComplete, Canal: "MB1" })], 1);

        Assert.Equal(new PhaseMinutes(VisitPhase.Removal, null, null, "“removal complete” is not marked in MB1."), minutes[VisitPhase.Removal]);
        Assert.Equal("“removal complete” is not marked in MB1.", minutes[VisitPhase.Shaping].Remark);
    }

    [Fact]
    public void One_mark_for_the_whole_tooth_closes_removal_in_all_canals()
    {
        var minutes = VisitMinutes.Of([At(0, ChairsideMark.RemovalStart, "P"), At(2, ChairsideMark.RemovalStart, "MB1"), At(6, ChairsideMark.RemovalComplete)], 1);

        Assert.Equal(6, minutes[VisitPhase.Removal].ElapsedMinutes);
    }

    [Fact]
    public void Hands_off_that_nobody_ended_gives_no_hands_on_minutes()
    {
        var minutes = VisitMinutes.Of([At(0, ChairsideMark.RemovalStart), At(3, ChairsideMark.HandsOff), At(7, ChairsideMark.RemovalComplete)], 1);

        Assert.Equal(new PhaseMinutes(VisitPhase.Removal, 7, null, "“hands off” is marked and “hands on” never after it."), minutes[VisitPhase.Removal]);
    }

    [Fact]
    public void Marks_in_the_wrong_order_are_said_to_be()
    {
        var minutes = VisitMinutes.Of([At(9, ChairsideMark.RemovalStart), At(5, ChairsideMark.RemovalComplete)], 1);

        Assert.Equal(new PhaseMinutes(VisitPhase.Removal, null, null, "“removal complete” is marked before “first touch of filling”."), minutes[VisitPhase.Removal]);
    }

    [Fact]
    public void Corrections_are_taken_into_account()
    {
        ChairsideEntry[] corrected =
        [
            .. Molar,
            new EntryCorrected(1, Nine.AddMinutes(95), 12, "tapped late", At(34.5, ChairsideMark.RemovalComplete, "MB1")),
            new EntryCorrected(1, Nine.AddMinutes(96), 3, "no pause then", null),
        ];

        var minutes = VisitMinutes.Of(corrected, 1);

        Assert.Equal(new PhaseMinutes(VisitPhase.Removal, 8.5, 5.5, null), minutes[VisitPhase.Removal]);
        Assert.Equal(new PhaseMinutes(VisitPhase.Access, 18, 18, null), minutes[VisitPhase.Access]);
    }

    [Fact]
    public void Hands_on_never_exceeds_the_clock_and_phases_add_up_to_the_treatment() =>
        Visit.Sample(entries =>
        {
            var minutes = VisitMinutes.Of(entries, 1);
            Assert.All(minutes.Phases, phase =>
            {
                Assert.True(phase.ElapsedMinutes is null or >= 0);
                Assert.True(phase.HandsOnMinutes is null || (phase.HandsOnMinutes >= -1e-9 && phase.HandsOnMinutes <= phase.ElapsedMinutes + 1e-9));
                Assert.Equal(phase.ElapsedMinutes is null || phase.HandsOnMinutes is null, phase.Remark is not null);
            });

            PhaseMinutes[] parts = [minutes[VisitPhase.Access], minutes[VisitPhase.Removal], minutes[VisitPhase.Shaping]];
            if (Array.TrueForAll(parts, part => part.ElapsedMinutes is not null))
            {
                Assert.Equal(parts.Sum(part => part.ElapsedMinutes!.Value), minutes[VisitPhase.Treatment].ElapsedMinutes!.Value, 6);
            }

            if (Array.TrueForAll(parts, part => part.HandsOnMinutes is not null))
            {
                Assert.Equal(parts.Sum(part => part.HandsOnMinutes!.Value), minutes[VisitPhase.Treatment].HandsOnMinutes!.Value, 6);
            }
        });

    [Fact]
    public void The_order_in_which_marks_were_noted_does_not_matter() =>
        Gen.Select(Visit, Gen.Int).Sample((entries, seed) =>
        {
            var distinct = entries.DistinctBy(entry => entry.At).ToArray();
            var shuffled = distinct.OrderBy(entry => unchecked((entry.At.Ticks * 2654435761L) ^ seed)).ToArray();
            Assert.Equal(VisitMinutes.Of(distinct, 1).Phases, VisitMinutes.Of(shuffled, 1).Phases);
        });

    private static Gen<ChairsideEntry[]> Visit { get; } =
        Gen.Select(Gen.Int[0, 7200], Gen.Enum<ChairsideMark>(), Gen.Int[0, 2], (second, mark, canal) => (ChairsideEntry)At(second / 60.0, mark, Canals[canal])).Array[0, 24];

    private static MomentMarked At(double minute, ChairsideMark mark, string? canal = null) => new(1, Nine.AddMinutes(minute), mark, canal);
}
