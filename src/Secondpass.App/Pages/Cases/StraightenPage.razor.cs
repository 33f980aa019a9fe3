using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>A photograph of a film on which its corners are marked. What happens on it is in its script.</summary>
public sealed partial class StraightenPage
{
    /// <summary>The photograph.</summary>
    [Parameter]
    public string Sha256 { get; set; } = string.Empty;

    [SupplyParameterFromForm(FormName = "straighten")]
    private StraightenForm? Form { get; set; }

    [Inject]
    private StraightenFilm Straightening { get; set; } = default!;

    private string Title => Case!.Films.FirstOrDefault(film => film.Sha256 == Sha256) is { } film ? CaseWords.Of(film) : "not a film of this case";

    /// <inheritdoc/>
    protected override void Fill(DentalCase it) => Form ??= new StraightenForm { Version = it.Version };

    private void Take()
    {
        var answer = Straightening.Straighten(Case!.Id, Form!.Version, Sha256, Form.Marks, Form.Size, Form.OneSide, Form.OtherSide, By);
        Form.Version = Done(answer, Form.Version, answer.TryGet(out var it, out _) ? $"/cases/{it.Id}/films/{it.Films[^1].Sha256}/draw" : null);
    }

    /// <summary>The marks, as the script writes them, and the film's size.</summary>
    private sealed class StraightenForm
    {
        public long Version { get; set; }

        public string? Marks { get; set; }

        public string Size { get; set => field = value ?? "2"; } = "2";

        public string? OneSide { get; set; }

        public string? OtherSide { get; set; }
    }
}
