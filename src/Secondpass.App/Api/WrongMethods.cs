using System.Reflection;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Endpoints;
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
    /// <summary>Lets pages be read only, but those that have a form of their own, which is posted to the page itself.</summary>
    public static void PostedToOnlyWithForms(this IEndpointConventionBuilder pages) => pages.Finally(page =>
    {
        foreach (var methods in page.Metadata.OfType<IHttpMethodMetadata>().ToList())
        {
            page.Metadata.Remove(methods);
        }

        page.Metadata.Add(new HttpMethodMetadata(page.Metadata.OfType<ComponentTypeMetadata>().Any(component => HasForm(component.Type))
            ? [HttpMethods.Get, HttpMethods.Head, HttpMethods.Post]
            : [HttpMethods.Get, HttpMethods.Head]));
    });

    private static bool HasForm(Type page) => page
        .GetProperties(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic)
        .Any(property => property.IsDefined(typeof(SupplyParameterFromFormAttribute)));
}
