using Secondpass.Domain;
using Secondpass.Domain.Clinics;
using Secondpass.Records.Sqlite;

namespace Secondpass.Records.Events;

/// <summary>What is known of the clinic itself: one stream of events.</summary>
/// <remarks>Safe to call from several threads; a second program may use the same store.</remarks>
public sealed class ClinicRecord
{
    private const string Stream = "clinic";

    private readonly SqliteEvents events;

    internal ClinicRecord(SqliteEvents events) => this.events = events;

    /// <summary>The clinic as it is now.</summary>
    public Clinic Read() => Fold(events.Read(Stream));

    /// <summary>Notes something about the clinic, all or nothing.</summary>
    /// <param name="expectedVersion">The version of the clinic that the change was made to; 0 when nothing was noted yet.</param>
    /// <param name="by">Who notes it.</param>
    /// <param name="happened">What, in order.</param>
    /// <returns>The clinic as it is now; or a refusal: <c>clinic_changed</c>, busy, disk full.</returns>
    public Answer<Clinic> Append(long expectedVersion, Author by, IReadOnlyList<ClinicEvent> happened)
    {
        ArgumentNullException.ThrowIfNull(happened);
        return events.Write<Clinic>(writer =>
        {
            var before = Fold(writer.Read(Stream));
            if (before.Version != expectedVersion)
            {
                return new Refusal(
                    "clinic_changed",
                    "The clinic's details, instruments or sequences were changed meanwhile. Nothing of yours was stored.",
                    "Look at them again, then make your change anew if it is still right.",
                    new Dictionary<string, double> { ["expected_version"] = expectedVersion, ["version"] = before.Version });
            }

            foreach (var one in happened)
            {
                writer.Append(Stream, by.Who, by.Device, null, EventPayload.Write(one));
            }

            return happened.Aggregate(before, (so, next) => so.With(next));
        });
    }

    private static Clinic Fold(IReadOnlyList<StoredEvent> stored) =>
        Clinic.From([.. stored.Select(one => (ClinicEvent)EventPayload.Read(one.Kind, one.KindVersion, one.Payload.Span))]);
}
