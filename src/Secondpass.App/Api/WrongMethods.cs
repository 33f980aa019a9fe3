using Secondpass.Domain;

namespace Secondpass.App.Api;

/// <summary>Says in words that an address can't be asked in this way, and in which it can.</summary>
internal sealed class WrongMethods(RequestDelegate next)
{
    public async Task InvokeAsync(HttpContext context)
    {
        await next(context);
        if (context.Response is { StatusCode: StatusCodes.Status405MethodNotAllowed, HasStarted: false })
        {
            var refusal = new Refusal(
                "method_not_allowed",
                $"{context.Request.Method} does nothing at {context.Request.Path}; it answers to {context.Response.Headers.Allow}.",
                "Open the page in a browser, and use its own buttons.");
            await Answers.Refused(refusal, StatusCodes.Status405MethodNotAllowed).ExecuteAsync(context);
        }
    }
}

/// <summary>Which methods pages answer to.</summary>
internal static class PageMethods
{
    /// <summary>Lets pages be read only: what they change goes through endpoints, so nothing is ever posted to a page itself.</summary>
    public static void OnlyRead(this IEndpointConventionBuilder pages) => pages.Finally(page =>
    {
        foreach (var methods in page.Metadata.OfType<IHttpMethodMetadata>().ToList())
        {
            page.Metadata.Remove(methods);
        }

        page.Metadata.Add(new HttpMethodMetadata([HttpMethods.Get, HttpMethods.Head]));
    });
}
