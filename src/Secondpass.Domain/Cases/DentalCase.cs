using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Films;
using Secondpass.Domain.Plans;

namespace Secondpass.Domain.Cases;

/// <summary>A case as its events say, in order: from the referral to the letter.</summary>
/// <remarks>Not stored: it is read off the events. Version counts them and guards edits.</remarks>
public sealed record DentalCase
{
    private DentalCase(CaseId id, CaseOpened opened)
    {
        Id = id;
        Patient = opened.Patient;
        Tooth = opened.Tooth;
        Referral = opened.Referral;
    }

    /// <summary>Its identity.</summary>
    public CaseId Id { get; }

    /// <summary>The patient.</summary>
    public Patient Patient { get; private init; }

    /// <summary>The tooth.</summary>
    public ToothNumber Tooth { get; private init; }

    /// <summary>Who sent it and why.</summary>
    public Referral Referral { get; private init; }

    /// <summary>Answers before treatment; a question missing here was not asked.</summary>
    public IReadOnlyDictionary<HealthQuestion, HealthAnswer> Health { get; private init; } = new Dictionary<HealthQuestion, HealthAnswer>();

    /// <summary>Papers that came with it.</summary>
    public IReadOnlyList<AttachedFile> Papers { get; private init; } = [];

    /// <summary>The assessment.</summary>
    public Assessment Assessment { get; private init; } = Assessment.Start;

    /// <summary>The canals, parents before children.</summary>
    public IReadOnlyList<CanalRecord> Canals { get; private init; } = [];

    /// <summary>The tooth that the canals were noted for; another than <see cref="Tooth"/> where that was corrected since.</summary>
    public ToothNumber CanalsNotedFor { get; private init; }

    /// <summary>Whether the canals were noted before the tooth was corrected, and not looked through since.</summary>
    public bool HasCanalsOfAnotherTooth => Canals.Count > 0 && CanalsNotedFor != Tooth;

    /// <summary>What a cone-beam scan showed; null when none was read.</summary>
    public ConeBeamReading? ConeBeam { get; private init; }

    /// <summary>What was told from two films with the tube shifted, oldest first.</summary>
    public IReadOnlyList<ParallaxReading> Parallax { get; private init; } = [];

    /// <summary>How often each reference point was reduced or lost; a point missing here never was.</summary>
    public IReadOnlyDictionary<string, int> ReferencePointsLost { get; private init; } = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);

    /// <summary>The films.</summary>
    public IReadOnlyList<CaseFilm> Films { get; private init; } = [];

    /// <summary>The films that were made of photographs, oldest first; each is one of <see cref="Films"/> too.</summary>
    public IReadOnlyList<FilmStraightened> Straightened { get; private init; } = [];

    /// <summary>
    /// The object of known length that a film has its scale from, by the film's SHA-256. Null where it was taken back; a film missing here never had one.
    /// </summary>
    public IReadOnlyDictionary<string, KnownLength?> KnownLengths { get; private init; } = new Dictionary<string, KnownLength?>();

    /// <summary>The marks on films that canals were measured from, one for each film.</summary>
    public IReadOnlyList<MeasuredMarks> Measured { get; private init; } = [];

    /// <summary>What was drawn on its films, by number.</summary>
    public IReadOnlyList<DrawnMeasurement> Drawn { get; private init; } = [];

    /// <summary>What was drawn and removed, as it was then; the one removed last is the last.</summary>
    public IReadOnlyList<DrawnMeasurement> DrawnRemoved { get; private init; } = [];

    /// <summary>The photographs.</summary>
    public IReadOnlyList<Photograph> Photographs { get; private init; } = [];

    /// <summary>Comparisons, oldest first.</summary>
    public IReadOnlyList<CaseComparison> Comparisons { get; private init; } = [];

    /// <summary>The plan chosen; null when none yet.</summary>
    public RemovalPlan? Plan { get; private init; }

    /// <summary>What the dentist had set for the plan chosen last.</summary>
    public PlanSettings PlanSettings { get; private init; } = PlanSettings.None;

    /// <summary>Everything noted at the chair, in order, corrections among them.</summary>
    public IReadOnlyList<ChairsideEntry> Chairside { get; private init; } = [];

    /// <summary>Finish notes by visit.</summary>
    public IReadOnlyDictionary<int, FinishNote> Finishes { get; private init; } = new Dictionary<int, FinishNote>();

    /// <summary>Letters made, oldest first.</summary>
    public IReadOnlyList<LetterMade> Letters { get; private init; } = [];

    /// <summary>How many events it was read off.</summary>
    public long Version { get; private init; } = 1;

    /// <summary>Reads a case off its events.</summary>
    /// <param name="id">Its identity.</param>
    /// <param name="events">At least one; the first opens it.</param>
    /// <exception cref="ArgumentException">There is no event, or the first doesn't open a case.</exception>
    public static DentalCase From(CaseId id, IReadOnlyList<CaseEvent> events)
    {
        ArgumentNullException.ThrowIfNull(events);
        if (events.Count == 0 || events[0] is not CaseOpened opened)
        {
            throw new ArgumentException("The first event of a case opens it.", nameof(events));
        }

        return events.Skip(1).Aggregate(new DentalCase(id, opened), (so, next) => so.With(next));
    }

    /// <summary>A reference point as it is now.</summary>
    /// <param name="name">Its name.</param>
    public ReferencePoint ReferencePoint(string name) => new(name, 1 + ReferencePointsLost.GetValueOrDefault(name));

    /// <summary>Whether a length still holds: its reference point was not reduced or lost since.</summary>
    public bool Holds(LengthReading length)
    {
        ArgumentNullException.ThrowIfNull(length);
        return length.From.Version == ReferencePoint(length.From.Name).Version;
    }

    /// <summary>The case after one more event; an event that it doesn't know leaves it as it is.</summary>
    public DentalCase With(CaseEvent next)
    {
        var with = next switch
        {
            ReferralChanged changed => this with { Referral = changed.Referral },
            PatientCorrected corrected => this with { Patient = corrected.Patient },
            ToothCorrected corrected => this with { Tooth = corrected.Tooth, Plan = null, PlanSettings = PlanSettings.None },
            HealthAnswered answered => this with { Health = new Dictionary<HealthQuestion, HealthAnswer>(Health) { [answered.Question] = answered.Answer } },
            PaperAttached paper => this with { Papers = [.. Papers, paper.File] },
            ToothAssessed assessed => this with { Assessment = assessed.Assessment },
            CanalsNoted noted => this with { Canals = noted.Canals, CanalsNotedFor = Tooth },
            ConeBeamRead read => this with { ConeBeam = read.Reading },
            FilmAttached film => this with { Films = [.. Films, film.Film] },
            FilmDated dated => this with { Films = [.. Films.Select(film => film.Sha256 == dated.FilmSha256 ? film with { DayEntered = dated.Day } : film)] },
            FilmStraightened straightened => this with { Straightened = [.. Straightened, straightened] },
            FilmCalibrated calibrated => this with { KnownLengths = new Dictionary<string, KnownLength?>(KnownLengths) { [calibrated.FilmSha256] = calibrated.Known } },
            FilmCalibrationTakenBack back => this with { KnownLengths = new Dictionary<string, KnownLength?>(KnownLengths) { [back.FilmSha256] = null } },
            FilmMeasured measured => this with { Measured = [.. Measured.Where(marks => marks.FilmSha256 != measured.Film.FilmSha256), measured.Film] },
            MeasurementDrawn drawn => this with { Drawn = [.. Drawn, drawn.Measurement] },
            MeasurementChanged changed => this with { Drawn = [.. Drawn.Select(one => one.Number == changed.Measurement.Number ? changed.Measurement : one)] },
            MeasurementRemoved removed => this with
            {
                Drawn = [.. Drawn.Where(one => one.Number != removed.Number)],
                DrawnRemoved = [.. DrawnRemoved, .. Drawn.Where(one => one.Number == removed.Number)],
            },
            MeasurementPutBack back => this with
            {
                Drawn = [.. Drawn.Concat(DrawnRemoved.Where(one => one.Number == back.Number)).OrderBy(one => one.Number)],
                DrawnRemoved = [.. DrawnRemoved.Where(one => one.Number != back.Number)],
            },
            ParallaxRead parallax => this with { Parallax = [.. Parallax, parallax.Reading] },
            ReferencePointLost lost => this with
            {
                ReferencePointsLost = new Dictionary<string, int>(ReferencePointsLost, StringComparer.OrdinalIgnoreCase) { [lost.Name] = ReferencePointsLost.GetValueOrDefault(lost.Name) + 1 },
            },
            PhotographAttached photograph => this with { Photographs = [.. Photographs, photograph.Photograph] },
            ComparisonAttached comparison => this with { Comparisons = [.. Comparisons, comparison.Result] },
            PlanChosen chosen => this with { Plan = chosen.Plan, PlanSettings = chosen.Settings },
            ChairsideEntry entry => this with { Chairside = [.. Chairside, entry] },
            FinishNoted finish => this with { Finishes = new Dictionary<int, FinishNote>(Finishes) { [finish.Visit] = finish.Note } },
            LetterMade letter => this with { Letters = [.. Letters, letter] },
            _ => this,
        };
        return with with { Version = Version + 1 };
    }
}
