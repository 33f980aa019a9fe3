using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Clinics;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Job.Instruments;
using Secondpass.Job.Plans;

namespace Secondpass.App.Pages.Plan;

/// <summary>How the old filling of a case comes out: proposed from its canals, and chosen.</summary>
public sealed partial class PlanPage
{
    [SupplyParameterFromForm(FormName = "plan")]
    private PlanForm? Form { get; set; }

    [Inject]
    private PlanForCase Planning { get; set; } = default!;

    [Inject]
    private KeepInstruments Instruments { get; set; } = default!;

    private Clinic Clinic { get; set; } = default!;

    private RemovalPlan? Plan { get; set; }

    private bool IsChosen { get; set; }

    private string? Chosen => Form!.Sequence ?? (Clinic.Sequences is [var first, ..] ? first.Name : null);

    private bool IsSet => Form!.ResinFollows || Form.Core is { Length: > 0 } || Form.Canals.Any(line => line.NoDeeperThan is { Length: > 0 } || line.Final is { Length: > 0 });

    /// <inheritdoc/>
    protected override void Fill(DentalCase it)
    {
        Clinic = Instruments.Read();
        if (Form is not null)
        {
            Form.Canals = Form.Canals is [] ? PlanForm.Of(it).Canals : Form.Canals;
            return;
        }

        Form = PlanForm.Of(it);
        if (it.Plan is { } chosen)
        {
            (Plan, IsChosen) = (chosen, true);
        }
        else
        {
            Propose(it);
        }
    }

    private void Send()
    {
        if (Form!.Act == "use")
        {
            Form.Version = Done(Planning.Choose(Case!.Id, Form, By), Form.Version);
        }

        Propose(Case!);
    }

    private void Propose(DentalCase it)
    {
        if (Planning.Show(it, Form!).TryGet(out var plan, out var refusal))
        {
            Plan = plan;
        }
        else
        {
            Refused ??= refusal;
        }
    }

    private InstrumentKind? KindOf(RemovalStep step) => Clinic.Kinds.FirstOrDefault(kind => kind.Code == step.KindCode);

    private static IEnumerable<(string? Branch, IReadOnlyList<(int Number, RemovalStep Step)> Steps)> Groups(RemovalPlan plan)
    {
        var numbered = plan.Steps.Select((step, i) => (Number: i + 1, Step: step));
        return numbered
            .GroupBy(one => one.Step.Phase == RemovalPhase.TakeDown ? null : one.Step.Branch)
            .Select(group => (group.Key, (IReadOnlyList<(int, RemovalStep)>)[.. group]));
    }
}
