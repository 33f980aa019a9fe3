using System.Globalization;
using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>What stands over every page of a case: tooth in words, patient, steps, what was not asked, what must be minded.</summary>
public sealed partial class CaseHeader
{
    /// <summary>The case.</summary>
    [Parameter]
    [EditorRequired]
    public DentalCase Case { get; set; } = default!;

    /// <summary>The step whose page this is; null for the overview.</summary>
    [Parameter]
    public CaseStep? Step { get; set; }

    [Inject]
    private ClinicHabits Habits { get; set; } = default!;

    private WrittenTooth Tooth => new(Case.Tooth, Habits.Notation);

    private IEnumerable<string> Others => Enum.GetValues<ToothNotation>()
        .Where(notation => notation != Habits.Notation)
        .Select(notation => $"{new WrittenTooth(Case.Tooth, notation).Text} ({WrittenTooth.NameOf(notation)})");

    private CaseStep? Next => Case.NextStep();

    private IReadOnlyList<string> NotAsked =>
        [.. Enum.GetValues<HealthQuestion>().Where(question => !Case.Health.ContainsKey(question)).Select(HealthLine.InFewWords)];

    private IReadOnlyList<string> Alerts =>
    [
        .. Case.Health.Where(asked => asked.Value.Yes).OrderBy(asked => asked.Key).Select(asked => $"{HealthLine.InFewWords(asked.Key)} – {asked.Value.Detail}"),
        .. Case.Assessment.IsolatedDeepProbing is { } deep ? [string.Create(CultureInfo.InvariantCulture, $"an isolated pocket of {deep.Value:0.#} mm, possibly a root fracture")] : Array.Empty<string>(),
        .. Case.HasCanalsOfAnotherTooth ? [$"the canals were noted for the {Case.CanalsNotedFor.Words}, before the tooth was corrected – look them through and save them"] : Array.Empty<string>(),
        .. Case.Assessment is { RestorableAfterTakeDown: Restorability.NotRestorable } or { RestorableAfterTakeDown: Restorability.NotYet, RestorableBefore: Restorability.NotRestorable } ? ["judged not restorable"] : Array.Empty<string>(),
    ];
}
