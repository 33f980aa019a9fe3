using System.Globalization;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Components;
using Secondpass.App.Pages.Cases;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Plans;
using Secondpass.Job.Chairside;

namespace Secondpass.App.Pages.Visit;

/// <summary>What is done at the chair: one canal, one next step, and everything kept.</summary>
public sealed partial class VisitPage : CasePage
{
    private const string NotMarked = "not marked";

    private static readonly string[] Walls = ["buccal", "lingual", "palatal", "mesial", "distal"];

    /// <summary>The canal in hand.</summary>
    [SupplyParameterFromQuery]
    private string? Canal { get; set; }

    /// <summary>The visit, where a new one is to begin.</summary>
    [SupplyParameterFromQuery]
    private int? Visit { get; set; }

    /// <summary>The event whose card is open.</summary>
    [SupplyParameterFromQuery]
    private string? Event { get; set; }

    /// <summary>The entry that is being corrected.</summary>
    [SupplyParameterFromQuery(Name = "correct")]
    private int? CorrectNumber { get; set; }

    [SupplyParameterFromForm(FormName = "mark")]
    private MarkForm? Marking { get; set; }

    [SupplyParameterFromForm(FormName = "late")]
    private MarkForm? Late { get; set; }

    [SupplyParameterFromForm(FormName = "take-down")]
    private TakeDownForm? Apart { get; set; }

    [SupplyParameterFromForm(FormName = "step")]
    private StepForm? Step { get; set; }

    [SupplyParameterFromForm(FormName = "seen")]
    private SeenForm? Seen { get; set; }

    [SupplyParameterFromForm(FormName = "event")]
    private EventForm? Happening { get; set; }

    [SupplyParameterFromForm(FormName = "correct")]
    private CorrectionForm? Correction { get; set; }

    [Inject]
    private LogChairside Log { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private ShownVisit Shown { get; set; } = default!;

    private EventCard? Card { get; set; }

    private ShownEntry? Correcting { get; set; }

    private IReadOnlyList<(string Id, string Words)> Items { get; set; } = [];

    // Given when the form is shown, so that the second of two taps is known for the same entry.
    private long Key { get; } = BitConverter.ToInt64(RandomNumberGenerator.GetBytes(sizeof(long))) & long.MaxValue;

    /// <inheritdoc/>
    protected override void Fill(DentalCase it)
    {
        Marking ??= new MarkForm();
        Late ??= new MarkForm();
        Apart ??= new TakeDownForm();
        Step ??= new StepForm();
        Seen ??= new SeenForm();
        Happening ??= new EventForm();
        Correction ??= new CorrectionForm();
        var current = ShownVisit.Current(it);
        Shown = ShownVisit.Of(it, Canal, Visit == current + 1 ? current + 1 : current);
        Card = Enum.TryParse<ProceduralEvent>(Event, out var happened) && Enum.IsDefined(happened) ? EventCard.Of(happened) : null;
        Correcting = Shown.Entries.FirstOrDefault(entry => entry.Number == CorrectNumber && entry.Holds);
        Items = Log.Items(Shown.Step?.Step.KindCode, it, Shown.Visit, Shown.Canal);
    }

    private void AddMark() => Noted(Log.Mark(Case!.Id, OfTooth(Marking!), By));

    private void AddLate() => Noted(Log.Mark(Case!.Id, OfTooth(Late!), By));

    private void AddTakeDown() => Noted(Log.TakeDown(Case!.Id, Apart!, By));

    private void AddStep() => Noted(Log.Step(Case!.Id, Step!, By));

    private void AddSeen() => Noted(Log.Seen(Case!.Id, Seen!, By));

    private void AddEvent() => Noted(Log.Happened(Case!.Id, Happening!, By));

    private void Correct() => Noted(Log.Correct(Case!.Id, Correction!, By));

    private void Noted(Answer<DentalCase> answer) => Done(answer, Case!.Version, Here(Canal ?? Shown.Canal));

    // Access, shaping, hands off and the like are marked for the tooth, whatever canal is in hand.
    private static MarkForm OfTooth(MarkForm form)
    {
        form.Canal = ShownVisit.IsOfCanal(form.Mark) ? form.Canal : null;
        return form;
    }

    private string Here(string? canal) => $"/cases/{Id}/visit?canal={Uri.EscapeDataString(canal ?? string.Empty)}";

    private string Clock(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, Time.LocalTimeZone).ToString("HH:mm:ss", CultureInfo.InvariantCulture);

    private string Minutes(DateTimeOffset since) => (Time.GetUtcNow() - since).ToString(@"h\:mm\:ss", CultureInfo.InvariantCulture);

    private static string StateWords(CanalState state) => state switch
    {
        CanalState.NotBegun => "not begun",
        CanalState.Removing => "removal runs",
        CanalState.ToLength => "length reached",
        _ => "complete",
    };

    private static string Attempts(RemovalStep step)
    {
        string?[] limits =
        [
            step.AttemptsAtMost is { } attempts ? string.Create(CultureInfo.InvariantCulture, $"{attempts} attempts") : null,
            step.MinutesAtMost is { } minutes ? string.Create(CultureInfo.InvariantCulture, $"{minutes:0.#} min") : null,
        ];
        var said = string.Join(" or ", limits.OfType<string>());
        return said.Length > 0 ? $"after {said}: " : string.Empty;
    }
}
