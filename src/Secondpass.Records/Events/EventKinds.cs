using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Films;
using Secondpass.Domain.Plans;

namespace Secondpass.Records.Events;

/// <summary>How a type of event is named in the store.</summary>
/// <param name="Type">The type.</param>
/// <param name="Name">Its name, lower case with underscores; never renamed.</param>
/// <param name="Version">Version of its shape, from 1; rises when what is stored changes shape.</param>
internal sealed record EventKind(Type Type, string Name, int Version);

/// <summary>Every type of event by its name in the store: the one table that a new type is entered in.</summary>
internal static class EventKinds
{
    /// <summary>All of them.</summary>
    public static IReadOnlyList<EventKind> All { get; } =
    [
        // What the store notes itself.
        Of<NoticeAccepted>("notice_accepted", 2),
        Of<ComparisonKept>("comparison_kept"),
        Of<ComparisonRemoved>("comparison_removed"),
        Of<PatientForgotten>("patient_forgotten", 2),

        // What happens to a case.
        Of<CaseOpened>("case_opened", 2),
        Of<ReferralChanged>("referral_changed"),
        Of<PatientCorrected>("patient_corrected", 2),
        Of<ToothCorrected>("tooth_corrected"),
        Of<HealthAnswered>("health_answered"),
        Of<PaperAttached>("paper_attached"),
        Of<ToothAssessed>("tooth_assessed", 2),
        Of<CanalsNoted>("canals_noted"),
        Of<ConeBeamRead>("cone_beam_read"),
        Of<FilmAttached>("film_attached", 3),
        Of<FilmDated>("film_dated"),
        Of<FilmStraightened>("film_straightened"),
        Of<FilmCalibrated>("film_calibrated"),
        Of<FilmCalibrationTakenBack>("film_calibration_taken_back"),
        Of<FilmMeasured>("film_measured"),
        Of<MeasurementDrawn>("measurement_drawn"),
        Of<MeasurementChanged>("measurement_changed"),
        Of<MeasurementRemoved>("measurement_removed"),
        Of<MeasurementPutBack>("measurement_put_back"),
        Of<ParallaxRead>("parallax_read"),
        Of<ReferencePointLost>("reference_point_lost"),
        Of<PhotographAttached>("photograph_attached"),
        Of<ComparisonAttached>("comparison_attached"),
        Of<PlanChosen>("plan_chosen", 2),
        Of<FinishNoted>("finish_noted"),
        Of<LetterMade>("letter_made"),

        // What is noted at the chair.
        Of<MomentMarked>("moment_marked"),
        Of<TakenDown>("taken_down"),
        Of<StepDone>("step_done"),
        Of<EventHappened>("event_happened"),
        Of<SeenByEye>("seen_by_eye"),
        Of<EntryCorrected>("entry_corrected"),

        // What is noted about the clinic.
        Of<ClinicNamed>("clinic_named"),
        Of<KindEntered>("kind_entered"),
        Of<ItemAdded>("item_added"),
        Of<ItemPlaced>("item_placed"),
        Of<ItemRetired>("item_retired"),
        Of<UltrasonicUnitEntered>("ultrasonic_unit_entered"),
        Of<SequenceSaved>("sequence_saved"),
        Of<SequenceGivenUp>("sequence_given_up"),
        Of<SolventPreferred>("solvent_preferred"),
        Of<PlanLimitsSet>("plan_limits_set"),
        Of<UseCountChosen>("use_count_chosen"),
        Of<NotationChosen>("notation_chosen"),
        Of<CurrencyChosen>("currency_chosen"),

        // What is noted about films that belong to no case yet.
        Of<FilmsFolderChosen>("films_folder_chosen"),
        Of<FilmPutAside>("film_put_aside"),
        Of<FilmTakenBack>("film_taken_back"),
    ];

    private static readonly Dictionary<Type, EventKind> ByType = All.ToDictionary(kind => kind.Type);
    private static readonly Dictionary<string, EventKind> ByName = All.ToDictionary(kind => kind.Name, StringComparer.Ordinal);

    /// <summary>The kind of a type.</summary>
    /// <exception cref="NotSupportedException">The type is not in the table: a defect.</exception>
    public static EventKind Of(Type type) => ByType.GetValueOrDefault(type)
        ?? throw new NotSupportedException($"{type.Name} has no name in the store; enter it in {nameof(EventKinds)}.");

    /// <summary>The kind of a name, or null when this version of the program doesn't know it.</summary>
    public static EventKind? Find(string name) => ByName.GetValueOrDefault(name);

    private static EventKind Of<T>(string name, int version = 1) => new(typeof(T), name, version);
}
