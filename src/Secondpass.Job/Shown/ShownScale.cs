using System.Text.Json;
using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Documents;
using Secondpass.Radiographs.Calibrate;

namespace Secondpass.Job.Shown;

/// <summary>The scale that a film has in a case, as its pages show it.</summary>
/// <param name="MillimetresPerPixel">Size of a pixel, in mm; null when the film has no scale.</param>
/// <param name="Words">The scale and its source in words.</param>
/// <param name="Notices">What the dentist should know of it, in sentences; that there is none is said by the page in its own words.</param>
/// <param name="Known">The object of known length that it comes from; null when it doesn't.</param>
public sealed record ShownScale(double? MillimetresPerPixel, string Words, IReadOnlyList<string> Notices, KnownLength? Known)
{
    /// <summary>The scale of a film of a case.</summary>
    /// <param name="it">The case.</param>
    /// <param name="filmSha256">The film.</param>
    /// <param name="chosen">What was chosen for it.</param>
    public static ShownScale Of(DentalCase it, string filmSha256, Answer<ChosenScale> chosen)
    {
        ArgumentNullException.ThrowIfNull(it);
        ArgumentNullException.ThrowIfNull(chosen);
        var (scale, notices) = chosen.TryGet(out var given, out var refusal) ? given : new ChosenScale(null, [refusal.Reason]);
        return new ShownScale(scale?.MillimetresPerPixel, FilmWords.Scale(scale), [.. notices.Where(notice => notice != FilmScale.NoScale)], it.KnownLengths.GetValueOrDefault(filmSha256));
    }

    /// <summary>The known length as the pages' scripts draw it and send it on, as JSON; empty when there is none.</summary>
    public string KnownAsJson => Known is null ? string.Empty : JsonSerializer.Serialize(KnownLengthDocument.Of(Known), DocumentJson.Options);
}
