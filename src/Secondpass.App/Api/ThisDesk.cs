using System.Security.Cryptography;
using Secondpass.Job.Cases;

namespace Secondpass.App.Api;

/// <summary>Who writes at a screen: a name chosen in the settings, and a word for the browser that stays the same.</summary>
internal static class ThisDesk
{
    /// <summary>The cookie with the name of who writes.</summary>
    public const string WhoCookie = "secondpass-who";

    /// <summary>The cookie with the browser's own word.</summary>
    public const string DeviceCookie = "secondpass-device";

    /// <summary>What stands for somebody who has not said their name.</summary>
    public const string Nobody = "Somebody (name not set)";

    /// <summary>Who writes in a request; the browser gets a word of its own when it has none yet.</summary>
    public static Writer Writer(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        var who = context.Request.Cookies[WhoCookie];
        if (context.Request.Cookies[DeviceCookie] is not { Length: > 0 and <= 64 } device)
        {
            device = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));
            if (!context.Response.HasStarted)
            {
                context.Response.Cookies.Append(DeviceCookie, device, Kept);
            }
        }

        return new Writer(string.IsNullOrWhiteSpace(who) ? Nobody : who, device);
    }

    /// <summary>How the two cookies are kept: here only, not for scripts, for years.</summary>
    public static CookieOptions Kept { get; } = new()
    {
        HttpOnly = true,
        IsEssential = true,
        SameSite = SameSiteMode.Strict,
        MaxAge = TimeSpan.FromDays(3650),
    };
}
