using System.Runtime.CompilerServices;

namespace Secondpass.Radiographs.Pixels;

/// <summary>When a method is compiled as well as it can be.</summary>
internal static class Compilation
{
    /// <summary>
    /// At its first call. For the few methods that take most of the time of a comparison: it is over within two seconds of
    /// the start, before a better compilation would come by itself.
    /// </summary>
    public const MethodImplOptions AtOnce = MethodImplOptions.AggressiveOptimization;
}
