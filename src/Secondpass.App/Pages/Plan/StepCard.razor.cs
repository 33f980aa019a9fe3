using System.Globalization;
using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;

namespace Secondpass.App.Pages.Plan;

/// <summary>One step of a plan as a card: the taper the largest sign, the stop beside it.</summary>
public sealed partial class StepCard
{
    /// <summary>Its number in the plan, from 1.</summary>
    [Parameter]
    [EditorRequired]
    public int Number { get; set; }

    /// <summary>The step.</summary>
    [Parameter]
    [EditorRequired]
    public RemovalStep Step { get; set; } = default!;

    /// <summary>The steps of the plan before it: what they said already is not said again.</summary>
    [Parameter]
    public IReadOnlyList<RemovalStep> Before { get; set; } = [];

    /// <summary>Its kind of instrument; null for none.</summary>
    [Parameter]
    public InstrumentKind? Kind { get; set; }

    private PlanStrip? Strip => PlanStrip.Of(Step);

    private string? SizeClass => Kind?.TipSize is { } size ? string.Create(CultureInfo.InvariantCulture, $"iso-{size}") : null;

    // A limit's name stands before its colon; what it says stood in this canal already.
    private string Limit =>
        Step.BindingLimit.Split(": ", 2) is [var name, _] && Before.Index().FirstOrDefault(one => one.Item.Branch == Step.Branch && one.Item.BindingLimit == Step.BindingLimit) is { Item: not null } said
            ? string.Create(CultureInfo.InvariantCulture, $"{name}, as at step {said.Index + 1}.")
            : Step.BindingLimit;

    private List<int> SaidBefore => [.. Step.Cautions.Select(SaidAt).OfType<int>().Distinct().Order()];

    private IReadOnlyList<string> Settings
    {
        get
        {
            var said = new List<string>();
            if (Step.SpeedRpm is { } rpm)
            {
                said.Add(string.Create(CultureInfo.InvariantCulture, $"{rpm:0} rpm"));
            }

            if (Step.TorqueNewtonCentimetres is { } torque)
            {
                said.Add(string.Create(CultureInfo.InvariantCulture, $"{torque:0.##} N·cm"));
            }

            return said;
        }
    }

    private int? SaidAt(string caution) =>
        Before.Index().FirstOrDefault(one => one.Item.Cautions.Contains(caution)) is { Item: not null } said ? said.Index + 1 : null;

    private static string Tapered(double taper) => taper.ToString(".00", CultureInfo.InvariantCulture);

    private static string Mm(Millimetres length) => length.Value.ToString("0.0", CultureInfo.InvariantCulture);

    private static string N(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);
}
