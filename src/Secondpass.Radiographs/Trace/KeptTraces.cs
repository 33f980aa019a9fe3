using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Trace;

/// <summary>
/// Canals traced on a film, kept while the film is at hand: each click on one canal of a film asks for all of them again, of which the others
/// haven't changed. A canal alone follows from the film, its scale and its marks, so what is kept is what would be found anew.
/// </summary>
/// <remarks>Safe to call from several threads.</remarks>
internal sealed class KeptTraces
{
    /// <summary>More than the canals of a tooth, and those of them that are traced once more keeping off another's filling; a few tens of kilobytes each.</summary>
    private const int Most = 24;

    private static readonly ConditionalWeakTable<Radiograph, KeptTraces> OfFilms = new();
    private readonly LinkedList<(string Asked, Answer<CanalTracer.TracedAlone> Found)> newestFirst = [];
    private readonly Lock changing = new();

    /// <summary>What is kept of a film.</summary>
    /// <param name="film">The film.</param>
    public static KeptTraces Of(Radiograph film) => OfFilms.GetOrCreateValue(film);

    /// <summary>A canal as it was traced before, or traced now.</summary>
    /// <param name="scale">The film's scale; null for none.</param>
    /// <param name="clicks">The canal's marks.</param>
    /// <param name="avoided">Where its way must not run.</param>
    /// <param name="trace">Traces it.</param>
    public Answer<CanalTracer.TracedAlone> Find(Calibration? scale, CanalClicks clicks, IReadOnlyList<PathSearch.Detour> avoided, Func<Answer<CanalTracer.TracedAlone>> trace)
    {
        var asked = Words(scale, clicks, avoided);
        lock (changing)
        {
            for (var node = newestFirst.First; node is not null; node = node.Next)
            {
                if (node.Value.Asked == asked)
                {
                    newestFirst.Remove(node);
                    newestFirst.AddFirst(node);
                    return node.Value.Found;
                }
            }
        }

        var found = trace();
        lock (changing)
        {
            newestFirst.AddFirst((asked, found));
            while (newestFirst.Count > Most)
            {
                newestFirst.RemoveLast();
            }
        }

        return found;
    }

    private static string Words(Calibration? scale, CanalClicks clicks, IReadOnlyList<PathSearch.Detour> avoided)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"{scale?.MillimetresPerPixel:R} {scale?.DeviationShare:R}");
        Add(clicks);
        foreach (var (at, radius) in avoided)
        {
            text.Append(CultureInfo.InvariantCulture, $" {at.X:R} {at.Y:R} {radius:R}");
        }

        return text.ToString();

        void Add(CanalClicks branch)
        {
            text.Append(CultureInfo.InvariantCulture, $"({branch.Name.Length} {branch.Name}");
            foreach (var pin in branch.Pins)
            {
                text.Append(CultureInfo.InvariantCulture, $" {pin.At.X:R} {pin.At.Y:R} {pin.Strength}");
            }

            foreach (var below in branch.Branches)
            {
                Add(below);
            }

            text.Append(')');
        }
    }
}
