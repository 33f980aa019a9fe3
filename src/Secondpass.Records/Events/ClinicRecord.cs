using Secondpass.Domain;
using Secondpass.Domain.Clinics;

namespace Secondpass.Records.Events;

/// <summary>What is known of the clinic itself: one stream of events.</summary>
/// <remarks>Safe to call from several threads; a second program may use the same store.</remarks>
public sealed class ClinicRecord
{
    private const string Stream = "clinic";

    private readonly EventLog events;

    internal ClinicRecord(EventLog events) => this.events = events;

    /// <summary>The clinic as it is now.</summary>
    public Clinic Read() => events.Read(Fold);

    /// <summary>The devices on which something was noted about the clinic.</summary>
    public IReadOnlySet<string> Devices() => events.Read(Stream).Select(stored => stored.Device).ToHashSet(StringComparer.Ordinal);

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
            var before = Fold(writer);
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
                writer.Append(Stream, by, null, one);
            }

            return happened.Aggregate(before, (so, next) => so.With(next));
        });
    }

    // Never sealed, so always readable.
    private static Clinic Fold(EventReader reader) => Clinic.From(reader.Decode<ClinicEvent>(reader.Read(Stream)).Value);
}
