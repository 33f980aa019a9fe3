using System.Globalization;
using Microsoft.Net.Http.Headers;
using Secondpass.Domain;

namespace Secondpass.App.Api;

/// <summary>
/// Answers this computer's own pages only: a page from elsewhere can neither reach the workbench under another name
/// (DNS rebinding) nor make the browser send it anything. Every answer carries the policy that lets nothing in from outside.
/// </summary>
/// <param name="next">What comes after.</param>
/// <param name="port">The port that is listened on.</param>
internal sealed class LocalOnly(RequestDelegate next, int port)
{
    /// <summary>What a page may load: its own files and nothing else; no inline script or style.</summary>
    public const string Policy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; manifest-src 'self'; " +
        "base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

    private readonly string[] hosts = [.. new[] { "localhost", "127.0.0.1", "[::1]" }
        .Select(name => string.Create(CultureInfo.InvariantCulture, $"{name}:{port}"))];

    public Task InvokeAsync(HttpContext context)
    {
        var headers = context.Response.Headers;
        Guard(headers);
        var request = context.Request;
        var host = request.Headers.Host.ToString();
        if (!hosts.Contains(host, StringComparer.OrdinalIgnoreCase))
        {
            return Refuse(
                context,
                StatusCodes.Status421MisdirectedRequest,
                new Refusal("foreign_host", $"“{host}” is not an address of this workbench.", $"Open http://{hosts[0]} on this computer."));
        }

        if (!HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method) && !IsOwn(request.Headers.Origin.ToString(), request))
        {
            return Refuse(
                context,
                StatusCodes.Status403Forbidden,
                new Refusal("foreign_origin", $"A page of “{request.Headers.Origin}” may not change anything here.", $"Use the workbench's own pages at http://{hosts[0]}."));
        }

        // Films and results are a patient's: no browser keeps copies of them.
        if (!request.Path.StartsWithSegments("/modules", StringComparison.Ordinal) && !request.Path.StartsWithSegments("/fonts", StringComparison.Ordinal))
        {
            headers[HeaderNames.CacheControl] = "no-store";
        }

        return next(context);
    }

    /// <summary>Puts onto an answer what guards every one of them.</summary>
    public static void Guard(IHeaderDictionary headers)
    {
        headers[HeaderNames.ContentSecurityPolicy] = Policy;
        headers[HeaderNames.XContentTypeOptions] = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
    }

    // Programs that aren't browsers send no Origin and no Sec-Fetch-Site; browsers can't leave both out.
    private bool IsOwn(string origin, HttpRequest request)
    {
        if (origin.Length == 0)
        {
            return request.Headers["Sec-Fetch-Site"].ToString() is "" or "same-origin";
        }

        return hosts.Any(host => string.Equals(origin, "http://" + host, StringComparison.OrdinalIgnoreCase))
            && string.Equals(origin, "http://" + request.Headers.Host, StringComparison.OrdinalIgnoreCase);
    }

    private static Task Refuse(HttpContext context, int status, Refusal refusal) =>
        Answers.Refused(refusal, status).ExecuteAsync(context);
}
