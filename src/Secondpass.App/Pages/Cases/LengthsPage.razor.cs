using System.Globalization;
using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Quantities;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>Lengths as they were read, canal by canal.</summary>
public sealed partial class LengthsPage
{
    [SupplyParameterFromForm(FormName = "length")]
    private LengthForm? Form { get; set; }

    [SupplyParameterFromForm(FormName = "lost")]
    private LostForm? Lost { get; set; }

    [Inject]
    private NoteLength Noting { get; set; } = default!;

    private IReadOnlyList<(string Canal, LengthReading Length)> Lengths => [.. Case!.Canals.SelectMany(canal => canal.Lengths.Select(length => (canal.Name, length)))];

    private IReadOnlyList<string> References => [.. Lengths.Select(one => one.Length.From.Name).Distinct(StringComparer.OrdinalIgnoreCase)];

    /// <inheritdoc/>
    protected override void Fill(DentalCase it)
    {
        Form ??= new LengthForm { Version = it.Version, Reference = References.Count > 0 ? References[^1] : null };
        Lost ??= new LostForm { Version = it.Version };
    }

    private void Save() => Form!.Version = Done(Noting.Note(Case!.Id, Form, By), Form.Version);

    private void Lose() => Lost!.Version = Done(Noting.Lose(Case!.Id, Lost.Version, Lost.Reference, Lost.Reason, By), Lost.Version);

    private static string Number(Millimetres length) => length.Value.ToString("0.0#", CultureInfo.InvariantCulture);

    /// <summary>Which reference point was lost, and how.</summary>
    private sealed class LostForm
    {
        public long Version { get; set; }

        public string? Reference { get; set; }

        public string? Reason { get; set; }
    }
}
