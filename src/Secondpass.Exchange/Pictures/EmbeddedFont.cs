using System.Collections.Concurrent;
using SkiaSharp;

namespace Secondpass.Exchange.Pictures;

/// <summary>The typeface that pictures and papers are written in, carried in this assembly because a clinic's computer may have none; narrow for running text.</summary>
internal static class EmbeddedFont
{
    /// <summary>Name of the family.</summary>
    public const string Family = "DejaVu Sans";

    /// <summary>Name of its narrow family.</summary>
    public const string NarrowFamily = "DejaVu Sans Condensed";

    private static readonly ConcurrentDictionary<(bool Bold, bool Narrow), byte[]> Files = new();
    private static readonly ConcurrentDictionary<(bool Bold, bool Narrow), SKTypeface> Typefaces = new();

    /// <summary>The font file.</summary>
    public static byte[] Bytes(bool bold, bool narrow) => Files.GetOrAdd(
        (bold, narrow),
        static face => Read($"DejaVuSans{(face.Narrow ? "Condensed" : string.Empty)}{(face.Bold ? "-Bold" : string.Empty)}.ttf"));

    /// <summary>The typeface, for drawing pixels and for measuring.</summary>
    public static SKTypeface Typeface(bool bold, bool narrow = false) => Typefaces.GetOrAdd(
        (bold, narrow),
        static face =>
        {
            using var data = SKData.CreateCopy(Bytes(face.Bold, face.Narrow));
            return SKTypeface.FromData(data)
                ?? throw new InvalidOperationException("The embedded font can't be read.");
        });

    private static byte[] Read(string name)
    {
        using var stream = typeof(EmbeddedFont).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException("The embedded font " + name + " is missing.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
