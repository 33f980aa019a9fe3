using System.Runtime.CompilerServices;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Trace;

/// <summary>
/// A film's grey values with fillings brighter than dentine, made when they are asked for and kept until their memory is needed: while a mark
/// is moved the same film is asked for many times in a second.
/// </summary>
/// <remarks>Safe to call from several threads.</remarks>
internal sealed class KeptGreys
{
    private static readonly ConditionalWeakTable<Radiograph, KeptGreys> OfFilms = new();
    private readonly Radiograph film;
    private readonly WeakReference<GreyImage?> upright = new(null);
    private readonly WeakReference<GreyImage?> inverted = new(null);

    private KeptGreys(Radiograph film) => this.film = film;

    /// <summary>What is kept of a film.</summary>
    /// <param name="film">The film.</param>
    public static KeptGreys Of(Radiograph film) => OfFilms.GetValue(film, each => new KeptGreys(each));

    /// <summary>The grey values; they must not be changed.</summary>
    /// <param name="isBright">Whether the film itself shows fillings brighter than dentine; if not, it is inverted.</param>
    public GreyImage With(bool isBright)
    {
        var kept = isBright ? upright : inverted;
        lock (kept)
        {
            if (!kept.TryGetTarget(out var image))
            {
                image = GreyImage.From(film, inverted: !isBright);
                kept.SetTarget(image);
            }

            return image;
        }
    }
}
