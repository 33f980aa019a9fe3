using Secondpass.Job;

namespace Secondpass.App.Api;

/// <summary>The few things that are set.</summary>
internal static class SettingsEndpoints
{
    /// <summary>Maps the endpoints by which the notice of the first start is accepted, a plain form, and the recovery sheet is printed.</summary>
    public static void MapSettings(this WebApplication app)
    {
        app.MapPost("/api/notice", (ClinicData data) => Answers.From(data.AcceptNotice(), _ => Results.Redirect("/what-is-left")));

        // Asked for by a form, so that no browser fetches it ahead or finds it again in its history.
        app.MapPost("/api/recovery-sheet", (ClinicData data, HttpContext context) =>
        {
            context.Response.Headers.CacheControl = "no-store";
            return Results.Text(data.RecoverySheet(), "text/plain", System.Text.Encoding.UTF8);
        });
    }
}
