using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;

namespace Secondpass.App.Pages.Films;

/// <summary>What was tapped beside new films.</summary>
public sealed class NewFilmForm
{
    /// <summary>The act of attaching, followed by the film's SHA-256.</summary>
    public const string Attach = "attach ";

    /// <summary>The act of putting aside, followed by the film's SHA-256.</summary>
    public const string PutAside = "aside ";

    /// <summary>The act of taking back, followed by the film's SHA-256.</summary>
    public const string TakeBack = "back ";

    /// <summary>What is to be done, with which film.</summary>
    public string? Act { get; set; }

    /// <summary>When the film was taken; null for what the case tells.</summary>
    public FilmMoment? Moment { get; set; }

    /// <summary>From where.</summary>
    public TubeShift Shift { get; set; }

    /// <summary>The case that was chosen for a film, by the film's SHA-256, where no case is open.</summary>
    public Dictionary<string, string?> CaseOf { get; set => field = value ?? []; } = [];

    /// <summary>The sentences that were shown of a film that speaks of another patient or tooth, one a line.</summary>
    public string? Shown { get; set; }

    /// <summary>Why it belongs to the case all the same.</summary>
    public string? Why { get; set; }

    /// <summary>The film that it is about; null when nothing was tapped.</summary>
    public string? Sha256 => Act is { } act && act.IndexOf(' ', StringComparison.Ordinal) is > 0 and var end ? act[(end + 1)..] : null;

    /// <summary>Whether an act was tapped.</summary>
    /// <param name="act">The act.</param>
    public bool Is(string act) => Act?.StartsWith(act, StringComparison.Ordinal) ?? false;

    /// <summary>When and from where the film was taken, for a case.</summary>
    public FilmTaken TakenFor(DentalCase it) => new(Moment ?? AttachNewFilm.MomentNow(it), Shift);

    /// <summary>What was said to a film that speaks of another patient or tooth.</summary>
    public Confirmation Said => new(Shown, Why);
}
