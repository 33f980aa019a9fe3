using System.Text;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Secondpass.App.Pages.Shared;
using Secondpass.Domain;

namespace Secondpass.App.Api;

/// <summary>Turns what went wrong inside into an answer without a trace of the program's inside; the log keeps that.</summary>
internal sealed partial class FailuresAsAnswers(RequestDelegate next, ILogger<FailuresAsAnswers> log)
{
    public async Task InvokeAsync(HttpContext context)
    {
        try
        {
            await next(context);
        }
        catch (BadHttpRequestException failure) when (!context.Response.HasStarted)
        {
            var refusal = failure.StatusCode == StatusCodes.Status413PayloadTooLarge
                ? Answers.TooLarge(UploadLimits.LargestRequestBytes)
                : new Refusal("bad_request", "The request could not be read.", "Reload the page and do it again.");
            await Answers.Refused(refusal, failure.StatusCode).ExecuteAsync(context);
        }
        catch (RefusedException failure) when (!context.Response.HasStarted)
        {
            Failed(log, failure, context.Request.Method, context.Request.Path);
            await Answer(context, failure.Refusal, StatusCodes.Status503ServiceUnavailable);
        }
        catch (OperationCanceledException) when (context.RequestAborted.IsCancellationRequested)
        {
            // The page asked for something newer meanwhile.
        }
#pragma warning disable CA1031 // the last line of defence: whatever it was, the page gets a plain answer
        catch (Exception failure) when (!context.Response.HasStarted)
#pragma warning restore CA1031
        {
            Failed(log, failure, context.Request.Method, context.Request.Path);
            await Answer(
                context,
                new Refusal(
                    "defect",
                    "Something went wrong inside Secondpass; nothing that was entered or kept is lost.",
                    "Do it again. If it comes back, send the makers what the window that Secondpass was started in says."),
                StatusCodes.Status500InternalServerError);
        }
    }

    // A person gets a page in words, with what was typed; a script gets JSON.
    private static async Task Answer(HttpContext context, Refusal refusal, int status)
    {
        context.Response.Clear();
        LocalOnly.Guard(context.Response.Headers);
        context.Response.Headers.CacheControl = "no-store";
        if (!context.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.OrdinalIgnoreCase))
        {
            await Answers.Refused(refusal, status).ExecuteAsync(context);
            return;
        }

        var parameters = new Dictionary<string, object?>
        {
            [nameof(FailedPage.Refusal)] = refusal,
            [nameof(FailedPage.Address)] = context.Request.Path + context.Request.QueryString,
            [nameof(FailedPage.Sent)] = await SentForm.Of(context.Request),
        };
        // The page that failed has used this request's own services up.
        await using var fresh = context.RequestServices.GetRequiredService<IServiceScopeFactory>().CreateAsyncScope();
        await using var renderer = new HtmlRenderer(fresh.ServiceProvider, fresh.ServiceProvider.GetRequiredService<ILoggerFactory>());
        var page = await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<FailedPage>(ParameterView.FromDictionary(parameters))).ToHtmlString());
        await Results.Text(page, "text/html", Encoding.UTF8, status).ExecuteAsync(context);
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "{Method} {Path} failed")]
    private static partial void Failed(ILogger log, Exception failure, string method, PathString path);
}
