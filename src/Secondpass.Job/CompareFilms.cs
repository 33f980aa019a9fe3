using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Job.Documents;
using Secondpass.Job.Meaning;
using Secondpass.Radiographs.Calibrate;
using Secondpass.Radiographs.Compare;

namespace Secondpass.Job;

/// <summary>Third stage: a film before and a film after become what is left in each canal.</summary>
public static class CompareFilms
{
    /// <summary>Compares two films.</summary>
    /// <param name="before">The film before removal.</param>
    /// <param name="after">The film after or during removal.</param>
    /// <param name="marked">The canals, the scale and what stands in the canals on the film after.</param>
    /// <param name="tray">What another pass would be made with; null: the instruments that the case file says, else the shipped ones.</param>
    /// <returns>What is left; or a refusal: the state was not said, one landmark only, or whatever tracing and comparing refuse.</returns>
    public static Answer<ComparedFilms> Compare(Radiograph before, Radiograph after, MarkedCase marked, PassTray? tray = null)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        ArgumentNullException.ThrowIfNull(marked);
        if (marked.AfterState is not { } state)
        {
            return new Refusal(
                "after_state_not_said",
                "It is not said what stands in the canals on the film after.",
                "Say whether the filling is out, an instrument stands in the canals, a dressing was placed, or they were filled again.");
        }

        if (marked.WhyNotOn(before) is { } outside)
        {
            return outside;
        }

        if (marked.Landmarks.Count == 1)
        {
            return new Refusal(
                "one_landmark",
                "One thing is marked on both films; to help them find each other, two or more are needed.",
                "Mark a second thing that is seen on both films, far from the first, or take the first mark away.");
        }

        if (!FilmScale.Choose(before, marked.BeforeScale?.MillimetresPerPixel, marked.KnownLength).TryGet(out var chosen, out var noScale))
        {
            return noScale;
        }

        var request = new ComparisonRequest(
            before,
            after,
            chosen.Scale,
            marked.AfterScale,
            marked.Canals,
            state,
            marked.AfterStateOfBranch,
            marked.Landmarks);
        if (!FilmComparer.Compare(request).TryGet(out var comparison, out var refusal))
        {
            return refusal;
        }

        string[] said = [.. before.Notices, .. after.Notices.Except(before.Notices), .. chosen.Notices, .. SameFile(before, after)];
        var passes = NextPass.Of(request, comparison, marked.Tooth, tray ?? PassTray.Of(marked.Planning));
        return new ComparedFilms(request, comparison, CompareDocument.From(comparison, chosen.Scale, said, passes));
    }

    private static string[] SameFile(Radiograph before, Radiograph after) => before.Sha256 == after.Sha256
        ? ["The film before and the film after are the same file, so everything is left by definition."]
        : [];
}

/// <summary>Two films compared.</summary>
/// <param name="Request">What was compared.</param>
/// <param name="Comparison">What is left, with pictures.</param>
/// <param name="Document">The same as the command writes it.</param>
public sealed record ComparedFilms(ComparisonRequest Request, Comparison Comparison, CompareDocument Document)
{
    /// <summary>What each pixel of the film before is drawn as: one <see cref="ResidueClass"/> a pixel, row by row.</summary>
    public byte[] ResidueMap() => Exchange.Pictures.ResidueMap.Of(Comparison);
}
