using Microsoft.AspNetCore.Components;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>What is expected in each root, what was found, what the last treatment filled and what it missed.</summary>
public sealed partial class CanalsPage
{
    [SupplyParameterFromForm(FormName = "canals")]
    private CanalsForm? Form { get; set; }

    [Inject]
    private NoteCanals Noting { get; set; } = default!;

    private IReadOnlyList<RootRow> Rows => CanalTable.Of(Case!);

    private IReadOnlyList<string> Names => [.. Form!.Canals.Select(line => line.Name?.Trim()).OfType<string>().Where(name => name.Length > 0)];

    // Still to be named: they stand last, above the buttons.
    private IReadOnlyList<(int Index, CanalLine Line)> New => [.. Form!.Canals.Index().Where(one => string.IsNullOrWhiteSpace(one.Item.Name))];

    private IReadOnlyList<RootOfForm> Roots
    {
        get
        {
            var expected = ExpectedCanals.Of(Case!.Tooth);
            return
            [
                .. expected.Select(canal => canal.Root).Concat(Form!.Canals.Select(line => line.Root ?? ExpectedCanals.Only)).Distinct(StringComparer.OrdinalIgnoreCase)
                    .Select(root => new RootOfForm(
                        root,
                        [.. Form.Canals.Index().Where(one => !string.IsNullOrWhiteSpace(one.Item.Name) && string.Equals(one.Item.Root ?? ExpectedCanals.Only, root, StringComparison.OrdinalIgnoreCase))],
                        [.. expected.Where(canal => canal.Root == root).Select(canal => canal.Name).Where(name => !Names.Contains(name, StringComparer.OrdinalIgnoreCase))])),
            ];
        }
    }

    /// <inheritdoc/>
    protected override void Fill(DentalCase it) => Form ??= CanalsForm.Of(it);

    private async Task Save()
    {
        var form = Form!;
        if (form.AddWhatWasAsked(Case!) is { Name.Length: 0 })
        {
            // Still to be named: the page comes back with an empty line, and with everything typed.
            return;
        }

        form.Version = Done(Noting.Note(Case!.Id, form, await AllSent("films"), By), form.Version);
    }

    // The line in which the reason for leaving a root alone is typed; made when there is none yet.
    private int ReasonOf(string root)
    {
        var at = Form!.Reasons.FindIndex(line => string.Equals(line.Root, root, StringComparison.OrdinalIgnoreCase));
        if (at < 0)
        {
            Form.Reasons.Add(new LeftAloneLine { Root = root });
            at = Form.Reasons.Count - 1;
        }

        return at;
    }

    private static string Or(IReadOnlyList<string> words, string none) => words.Count == 0 ? none : string.Join(", ", words);

    private static string Words(CaseFilm film) => CaseWords.Of(film);

    private sealed record RootOfForm(string Root, IReadOnlyList<(int Index, CanalLine Line)> Lines, IReadOnlyList<string> NotYet)
    {
        public bool IsAlone => Lines.All(one => one.Line.Intent == CanalIntent.LeaveAlone);
    }
}
