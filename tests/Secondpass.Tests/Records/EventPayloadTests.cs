using System.Text.Json;
using System.Text.Json.Nodes;
using CsCheck;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Records.Events;
using Secondpass.Records.Upcasting;

namespace Secondpass.Tests.Records;

public sealed class EventPayloadTests
{
    private static readonly string Fixtures = Repository.At("tests", "Secondpass.Tests", "Records", "Fixtures");

    public static TheoryData<string, int> EveryKindAndVersion { get; } =
        [.. EventKinds.All.SelectMany(kind => Enumerable.Range(1, kind.Version).Select(version => (kind.Name, version)))];

    // What a store written by any earlier version holds: a fixture is never changed once that version was given out.
    [Theory]
    [MemberData(nameof(EveryKindAndVersion))]
    public void Reads_what_was_stored_in_every_version_of_every_kind(string kind, int version)
    {
        var happened = EventPayload.Read(kind, version, Fixture(kind, version));

        var written = EventPayload.Write(happened);
        Assert.Equal(kind, written.Kind);
        if (version == written.KindVersion)
        {
            Assert.True(
                JsonNode.DeepEquals(JsonNode.Parse(Fixture(kind, version)), JsonNode.Parse(written.Payload.Span)),
                $"{kind} of version {version} is not written as it was read. Either give it a new version with an upcaster, or mend {FileOf(kind, version)}:\n{System.Text.Encoding.UTF8.GetString(written.Payload.Span)}");
        }
    }

    [Fact]
    public void Every_fixture_is_of_a_kind_and_version_that_there_is() => Assert.Equal(
        EventKinds.All.SelectMany(kind => Enumerable.Range(1, kind.Version).Select(version => FileOf(kind.Name, version))).Order(StringComparer.Ordinal),
        Directory.GetFiles(Fixtures).Select(Path.GetFileName).Order(StringComparer.Ordinal));

    [Fact]
    public void Every_older_version_has_an_upcaster_and_nothing_else_has() => Assert.Equal(
        EventKinds.All.SelectMany(kind => Enumerable.Range(1, kind.Version - 1).Select(version => (kind.Name, version))).Order(),
        Upcasters.Known.Order());

    [Fact]
    public void A_notice_accepted_before_there_were_several_wordings_was_the_first() =>
        Assert.Equal(new NoticeAccepted(1), EventPayload.Read("notice_accepted", 1, "{}"u8));

    [Fact]
    public void Each_use_of_a_patient_forgotten_before_canals_were_kept_counts_as_a_canal_of_its_own()
    {
        var forgotten = (PatientForgotten)EventPayload.Read(
            "patient_forgotten",
            1,
            """{"cases":["c"],"uses":[{"case_id":"c","entry":4,"item":"item 7","visit":1},{"case_id":"c","entry":6,"item":"item 7","visit":1}]}"""u8);

        Assert.Equal([new("c", 4, "item 7", 1, 1), new("c", 6, "item 7", 1, 2)], forgotten.Uses);
    }

    [Theory]
    [InlineData("18050", 18050L)]
    [InlineData("null", null)]
    public void A_fee_noted_before_there_were_currencies_has_none(string stored, long? minorUnits)
    {
        var older = System.Text.Encoding.UTF8.GetString(Fixture("tooth_assessed", 1)).Replace("18050", stored, StringComparison.Ordinal);

        var assessed = (ToothAssessed)EventPayload.Read("tooth_assessed", 1, System.Text.Encoding.UTF8.GetBytes(older));

        Assert.Equal(minorUnits is { } fee ? new Money(fee, null) : null, assessed.Assessment.ExplorationFee);
    }

    [Fact]
    public void Every_event_of_the_domain_has_a_name_in_the_store() => Assert.Equal(
        typeof(CaseEvent).Assembly.GetTypes()
            .Where(type => !type.IsAbstract && (type.IsAssignableTo(typeof(CaseEvent)) || type.IsAssignableTo(typeof(ClinicEvent)) || type.IsAssignableTo(typeof(NewFilmEvent))))
            .Select(type => type.Name)
            .Order(StringComparer.Ordinal),
        EventKinds.All.Where(kind => kind.Type.Assembly == typeof(CaseEvent).Assembly).Select(kind => kind.Type.Name).Order(StringComparer.Ordinal));

    [Fact]
    public void What_is_written_is_read_back_whatever_it_says() => Gen.Int.Sample(
        seed =>
        {
            foreach (var kind in EventKinds.All)
            {
                var written = EventPayload.Write(new RandomEvents(seed).Of(kind.Type));
                var again = EventPayload.Write(EventPayload.Read(written.Kind, written.KindVersion, written.Payload.Span));
                Assert.Equal(System.Text.Encoding.UTF8.GetString(written.Payload.Span), System.Text.Encoding.UTF8.GetString(again.Payload.Span));
            }
        },
        iter: 200);

    [Theory]
    [InlineData("""{"file":{"sha256":"00","name":"a"}}""")]
    [InlineData("""{"file":{"sha256":"00","name":"a","media_type":null}}""")]
    [InlineData("""{"file":{"sha256":"00","name":"a","media_type":"b","more":1}}""")]
    public void A_payload_that_has_not_the_shape_of_its_version_is_a_defect(string payload) =>
        Assert.ThrowsAny<JsonException>(() => EventPayload.Read("paper_attached", 1, System.Text.Encoding.UTF8.GetBytes(payload)));

    [Theory]
    [InlineData("case_opened", 99)]
    [InlineData("never_heard_of", 1)]
    public void A_kind_or_version_that_is_not_known_is_never_guessed(string kind, int version) =>
        Assert.Equal(
            FormattableString.Invariant($"{kind} of version {version} is not known."),
            Assert.Throws<NotSupportedException>(() => EventPayload.Read(kind, version, "{}"u8)).Message);

    private static string FileOf(string kind, int version) => FormattableString.Invariant($"{kind}.{version}.json");

    private static byte[] Fixture(string kind, int version) => File.ReadAllBytes(Path.Combine(Fixtures, FileOf(kind, version)));
}
