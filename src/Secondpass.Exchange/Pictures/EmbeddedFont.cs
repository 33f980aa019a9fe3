using System.Collections.Concurrent;
using SkiaSharp;

namespace Secondpass.Exchange.Pictures;

/// <summary>The one typeface that pictures and sheets are written in, carried in this assembly because a clinic's computer may have none.</summary>
internal static class EmbeddedFont
{
    /// <summary>Name of the family.</summary>
    public const string Family = "DejaVu Sans";

    private static readonly Lazy<byte[]> RegularBytes = new(() => Read("DejaVuSans.ttf"));
    private static readonly Lazy<byte[]> BoldBytes = new(() => Read("DejaVuSans-Bold.ttf"));
    private static readonly ConcurrentDictionary<bool, SKTypeface> Typefaces = new();

    /// <summary>The font file.</summary>
    public static byte[] Bytes(bool bold) => bold ? BoldBytes.Value : RegularBytes.Value;

    /// <summary>The typeface, for drawing pixels and for measuring.</summary>
    public static SKTypeface Typeface(bool bold) => Typefaces.GetOrAdd(
        bold,
        static bold =>
        {
            using var data = SKData.CreateCopy(Bytes(bold));
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
