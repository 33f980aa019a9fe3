namespace Secondpass.App.Api;

/// <summary>Which open page asks: every page that shows films calls itself something of its own, anew each time it is loaded.</summary>
internal static class AskingPage
{
    /// <summary>What the page calls itself; null where it says nothing.</summary>
    public static string? Of(HttpRequest request) => request.Headers["Secondpass-Page"].ToString() is { Length: > 0 } page ? page : null;
}
