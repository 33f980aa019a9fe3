using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Chairside;
using Secondpass.Tests.Exchange.Letters;

namespace Secondpass.Tests.Job.Chairside;

public sealed class ChairsideHistoryTests
{
    private static readonly MomentMarked Touched = InventedLetter.At(5, ChairsideMark.RemovalStart, "P");

    [Fact]
    public void A_mark_is_told_with_its_canal_in_words() =>
        Assert.Equal("visit 1: first touch of filling, palatal canal", Words(Touched));

    [Fact]
    public void A_file_that_stopped_is_told_with_where_it_stopped_and_who_knows() => Assert.Equal(
        "visit 1: file stops short in first mesiobuccal canal, at 11.5 mm from the mesiobuccal cusp, told: the patient",
        Words(new EventHappened(1, Touched.At, "MB1", ProceduralEvent.FileStops, null, new LengthReading(new ReferencePoint("mesiobuccal cusp", 1), LengthEnd.FileStop, new Millimetres(11.5), LengthSource.InstrumentStop), "the patient", Touched.At, null)));

    [Fact]
    public void A_correction_tells_what_it_corrects_and_why()
    {
        Assert.Equal("visit 1: corrected (tapped late): first touch of filling, palatal canal, was at 09:03:00", Words(new EntryCorrected(1, Touched.At, 1, "tapped late", Touched with { At = Touched.At.AddMinutes(-2) })));
        Assert.Equal("visit 1: doesn't hold (wrong canal): first touch of filling, palatal canal", Words(new EntryCorrected(1, Touched.At, 1, "wrong canal", null)));
    }

    private static string Words(ChairsideEntry entry) => ChairsideHistory.Of(entry, [Touched], InventedLetter.Zone);
}
