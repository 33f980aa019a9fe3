using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Job.Documents;
using Secondpass.Radiographs.Calibrate;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Job;

/// <summary>Second stage: the marks on a film become canals with lengths, angles and widths.</summary>
public static class MeasureCanals
{
    /// <summary>Measures the canals marked on a film.</summary>
    /// <param name="film">The film.</param>
    /// <param name="marked">The marks and the scale entered.</param>
    /// <returns>The canals; or the first refusal: a mark outside the film, too few marks, a branch off its trunk, pixels that are not square.</returns>
    public static Answer<MeasuredFilm> Measure(Radiograph film, MarkedCase marked)
    {
        ArgumentNullException.ThrowIfNull(film);
        ArgumentNullException.ThrowIfNull(marked);
        if (marked.WhyNotOn(film) is { } outside)
        {
            return outside;
        }

        if (!FilmScale.Choose(film, marked.BeforeScale?.MillimetresPerPixel, marked.KnownLength).TryGet(out var chosen, out var noScale))
        {
            return noScale;
        }

        if (!CanalTracer.TraceAll(film, chosen.Scale, marked.Canals).TryGet(out var together, out var refusal))
        {
            return refusal;
        }

        string[] said = [.. film.Notices, .. chosen.Notices, .. together.SelectMany(trunk => trunk.SelfAndBelow()).Where(branch => branch.IsThroughMarks).Select(BesideFilling)];
        return new MeasuredFilm(chosen.Scale, together, MeasureDocument.From(together, chosen.Scale, said));
    }

    private static string BesideFilling(TracedBranch branch) =>
        $"The marks of {branch.Name} lie beside a filling that the film shows, so its path goes through the marks and that filling isn't taken for its own; how far the path may be off stands with it.";
}

/// <summary>The canals measured on one film.</summary>
/// <param name="Scale">The scale they were measured with; null: no millimetres.</param>
/// <param name="Trunks">The canals, each with its branches.</param>
/// <param name="Document">The same as the command writes it.</param>
public sealed record MeasuredFilm(Calibration? Scale, IReadOnlyList<TracedBranch> Trunks, MeasureDocument Document);
