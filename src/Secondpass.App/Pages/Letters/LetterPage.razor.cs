using System.Globalization;
using Microsoft.AspNetCore.Components;
using Secondpass.App.Pages.Cases;
using Secondpass.Domain.Cases;
using Secondpass.Job.Letters;

namespace Secondpass.App.Pages.Letters;

/// <summary>The reply and the patient's copy: drafted from what was noted, edited, made.</summary>
public sealed partial class LetterPage : CasePage
{
    private const int CharactersPerRow = 95;
    private const int MostRows = 12;

    /// <summary>Whom it is for.</summary>
    [SupplyParameterFromQuery]
    private string? For { get; set; }

    /// <summary>Whether films and what is left are to be left out.</summary>
    [SupplyParameterFromQuery(Name = "without-films")]
    private bool WithoutFilms { get; set; }

    /// <summary>Whether what is left is to be read together with films from another angle.</summary>
    [SupplyParameterFromQuery(Name = "both-angles")]
    private bool BothAngles { get; set; }

    [SupplyParameterFromForm(FormName = "letter")]
    private LetterForm? Form { get; set; }

    [SupplyParameterFromForm(FormName = "letterhead")]
    private LetterheadForm? Head { get; set; }

    [Inject]
    private WriteReply Reply { get; set; } = default!;

    [Inject]
    private Letterhead Letterhead { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    private IReadOnlyList<string> Gaps { get; set; } = [];

    private bool IsReadingFilms { get; set; }

    private bool CanReadBothAngles => Form is { LeaveFilmsOut: false } && !IsForPatient && WriteReply.FromAnotherAngle(Case!) is not null;

    private bool IsForPatient => For == LetterForm.Patient;

    /// <inheritdoc/>
    protected override void Fill(DentalCase it)
    {
        Head ??= Letterhead.Form();
        IsReadingFilms = Form is null && !IsForPatient && !WithoutFilms && !Reply.ReadFilms(it).IsCompleted;
        if (IsReadingFilms)
        {
            return;
        }

        if (Reply.Draft(it.Id, For, Form?.LeaveFilmsOut ?? WithoutFilms, Form?.BothAngles ?? BothAngles).TryGet(out var draft, out var refusal))
        {
            Form ??= draft.Form;
            Gaps = draft.Gaps;
        }
        else
        {
            Refused = refusal;
        }
    }

    private void Make() => Form!.Version = Done(Reply.Make(Case!.Id, Form, By), Form.Version);

    private void KeepHead()
    {
        if (Letterhead.Keep(Head!, By).TryGet(out _, out var refusal))
        {
            Navigation.NavigateTo(Navigation.Uri);
        }
        else
        {
            Refused = refusal;
        }
    }

    private static string Label(int index, string? topic) =>
        string.Create(CultureInfo.InvariantCulture, $"Paragraph {index + 1}{(string.IsNullOrWhiteSpace(topic) ? string.Empty : ", " + topic)}");

    private static int Rows(string? text) => Math.Clamp((text ?? string.Empty).Split('\n').Sum(line => 1 + (line.Length / CharactersPerRow)), 2, MostRows);
}
