using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Chairside;
using Secondpass.Job.Finish;
using Secondpass.Job.Instruments;
using Secondpass.Job.Letters;
using Secondpass.Job.Plans;

namespace Secondpass.Job.Demo;

/// <summary>One invented case: what was entered, step by step, on the forms that a dentist fills in.</summary>
/// <param name="Steps">The steps in order, each later than the one before; the first opens the case.</param>
internal sealed record DemoStory(IReadOnlyList<DemoStep> Steps)
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        TypeInfoResolver = new DefaultJsonTypeInfoResolver(),
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower, allowIntegerValues: false) },
    };

    /// <summary>The patient's number, by which it is known whether the story was played.</summary>
    [JsonIgnore]
    public string PatientNumber => Steps[0].Referral!.PatientNumber!;

    /// <summary>Reads a file of the demonstration.</summary>
    /// <exception cref="JsonException">It has a member that no form has: a defect of the demonstration.</exception>
    public static T Read<T>(string file) => JsonSerializer.Deserialize<T>(File.ReadAllBytes(file), Options) ?? throw new JsonException($"{file} is empty.");
}

/// <summary>The invented clinic itself.</summary>
/// <param name="Letterhead">Its letterhead.</param>
/// <param name="Instruments">Its instruments, each as it is entered.</param>
internal sealed record DemoClinicDetails(LetterheadForm Letterhead, IReadOnlyList<InstrumentsForm> Instruments);

/// <summary>One step of a story: when, and the one form that was filled in then.</summary>
internal sealed record DemoStep
{
    /// <summary>The day, counted from today; nothing: the day of the step before.</summary>
    public int? Day { get; init; }

    /// <summary>The time of day.</summary>
    public required TimeOnly Time { get; init; }

    /// <summary>The case is opened.</summary>
    public ReferralForm? Referral { get; init; }

    /// <summary>The tooth is assessed.</summary>
    public AssessmentForm? Assessment { get; init; }

    /// <summary>Films are attached.</summary>
    public DemoFilms? Films { get; init; }

    /// <summary>The canals are noted.</summary>
    public CanalsForm? Canals { get; init; }

    /// <summary>Canals are measured on a film.</summary>
    public DemoMarks? Measure { get; init; }

    /// <summary>A cone-beam scan is read.</summary>
    public ScanForm? Scan { get; init; }

    /// <summary>A length is read.</summary>
    public LengthForm? Length { get; init; }

    /// <summary>A plan is chosen.</summary>
    public PlanForm? Plan { get; init; }

    /// <summary>A moment is marked.</summary>
    public MarkForm? Mark { get; init; }

    /// <summary>A step is done; its instrument is named by the position where it stands.</summary>
    public StepForm? Step { get; init; }

    /// <summary>Something is seen by eye.</summary>
    public SeenForm? Seen { get; init; }

    /// <summary>Something happened.</summary>
    public EventForm? Event { get; init; }

    /// <summary>Two films are compared and the result kept with the case.</summary>
    public DemoComparison? Compare { get; init; }

    /// <summary>A visit is finished.</summary>
    public DemoFinish? Finish { get; init; }

    /// <summary>Whether it is an entry from the chair, which has a number of its own.</summary>
    [JsonIgnore]
    public bool IsAtTheChair => Mark is not null || Step is not null || Seen is not null || Event is not null;

    /// <summary>A letter is made from its draft: <see cref="LetterForm.Reply"/> or <see cref="LetterForm.Patient"/>.</summary>
    public string? Letter { get; init; }
}

/// <summary>Films of a story.</summary>
/// <param name="Files">The files, from the folder of the stories.</param>
/// <param name="Moment">When they were taken.</param>
/// <param name="Shift">From where.</param>
internal sealed record DemoFilms(IReadOnlyList<string> Files, FilmMoment Moment, TubeShift Shift);

/// <summary>Marks on a film of a story.</summary>
/// <param name="Film">The film's file.</param>
/// <param name="Marks">The marks, as the commands take them.</param>
internal sealed record DemoMarks(string Film, JsonElement Marks);

/// <summary>A comparison of a story.</summary>
/// <param name="Before">The film before.</param>
/// <param name="After">The film after.</param>
/// <param name="Label">What it is kept under.</param>
/// <param name="Marks">The marks on the film before, as the commands take them.</param>
internal sealed record DemoComparison(string Before, string After, string Label, JsonElement Marks);

/// <summary>A finish note of a story.</summary>
/// <param name="Note">The note, without its days.</param>
/// <param name="CallDay">Day of the call, counted from today.</param>
/// <param name="RestorationDay">Day by which the tooth is restored, counted from today.</param>
internal sealed record DemoFinish(FinishForm Note, int? CallDay, int? RestorationDay);
