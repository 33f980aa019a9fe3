using System.Globalization;

namespace Secondpass.Records;

/// <summary>Makes identities: the one place where they come from.</summary>
public static class Identity
{
    /// <summary>A new identity: 32 lower-case hexadecimal digits.</summary>
#pragma warning disable RS0030 // this is where identities are made
    public static string New() => Guid.NewGuid().ToString("N", CultureInfo.InvariantCulture);
#pragma warning restore RS0030

    /// <summary>Whether a text has the form of an identity.</summary>
    public static bool IsOne(string? text) => text is { Length: 32 } && text.All(char.IsAsciiHexDigitLower);
}
