using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>Typed findings from a cone-beam scan.</summary>
public sealed partial class ScanPage
{
    private static readonly string[] Sides = ["mesial", "distal", "buccal", "lingual"];

    [SupplyParameterFromForm(FormName = "scan")]
    private ScanForm? Form { get; set; }

    [Inject]
    private ReadScan Reading { get; set; } = default!;

    /// <inheritdoc/>
    protected override void Fill(DentalCase it) => Form ??= ScanForm.Of(it);

    private void Save() => Form!.Version = Done(Reading.Read(Case!.Id, Form, By), Form.Version);
}
