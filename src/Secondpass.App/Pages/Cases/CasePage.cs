using Microsoft.AspNetCore.Components;
using Secondpass.App.Api;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>What all pages of one case share: the case, who writes, and how a refused form comes back.</summary>
/// <remarks>
/// A page has a form object with the typed text of every field and the version that it was filled from, both sent back by the browser.
/// When it is refused the same page is shown with the refusal and with the form as it was typed.
/// </remarks>
public abstract class CasePage : ComponentBase
{
    /// <summary>The case's identity.</summary>
    [Parameter]
    public string Id { get; set; } = string.Empty;

    [CascadingParameter]
    private HttpContext Http { get; set; } = default!;

    [Inject]
    private CaseRegister Register { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    /// <summary>The case as it stands now; null when there is none.</summary>
    public DentalCase? Case { get; private set; }

    /// <summary>Why what was sent was not noted; null when nothing was refused.</summary>
    public Refusal? Refused { get; protected set; }

    /// <summary>What others noted since the form was filled; shown when a form is refused for it.</summary>
    public IReadOnlyList<CaseNote> Meanwhile { get; private set; } = [];

    /// <summary>Who writes at this screen.</summary>
    protected Writer By => ThisDesk.Writer(Http);

    /// <inheritdoc/>
    protected sealed override void OnInitialized()
    {
        if (Register.Read(Id).TryGet(out var it, out var refusal))
        {
            Case = it;
            Fill(it);
        }
        else
        {
            Refused = refusal;
        }
    }

    /// <summary>Fills the page's forms from the case, where the browser sent none.</summary>
    /// <param name="it">The case as it stands now.</param>
    protected abstract void Fill(DentalCase it);

    /// <summary>Goes on when something was noted, and stays with the refusal when not.</summary>
    /// <param name="answer">What came of it.</param>
    /// <param name="version">The version that the form was filled from.</param>
    /// <param name="then">Where to go; null for this page again.</param>
    /// <returns>The version that the form now stands on: sending it again then overwrites what was just shown.</returns>
    protected long Done(Answer<DentalCase> answer, long version, string? then = null)
    {
        ArgumentNullException.ThrowIfNull(answer);
        if (answer.TryGet(out var it, out var refusal))
        {
            Navigation.NavigateTo(then ?? Navigation.Uri);
            return it.Version;
        }

        Refused = refusal;
        if (Register.Read(Id).TryGet(out var now, out _) && now.Version != version)
        {
            Case = now;
            Meanwhile = Register.Since(Id, version).TryGet(out var notes, out _) ? notes : [];
            return now.Version;
        }

        return version;
    }

    /// <summary>Shows this page anew when something beside the case was noted, and stays with the refusal when not.</summary>
    /// <param name="answer">What came of it.</param>
    protected void Stay<T>(Answer<T> answer)
        where T : notnull
    {
        ArgumentNullException.ThrowIfNull(answer);
        if (answer.TryGet(out _, out var refusal))
        {
            Navigation.NavigateTo(Navigation.Uri);
        }
        else
        {
            Refused = refusal;
        }
    }

    /// <summary>A file that was sent with the form; null when none was chosen.</summary>
    /// <param name="name">The field's name.</param>
    protected Task<SentFile?> Sent(string name) => SentFiles.One(Http, name);

    /// <summary>All files that were sent in a field.</summary>
    /// <param name="name">The field's name.</param>
    protected Task<IReadOnlyList<SentFile>> AllSent(string name) => SentFiles.All(Http, name);
}
