using Secondpass.Job;

namespace Secondpass.App.Api;

/// <summary>The few things that are set.</summary>
internal static class SettingsEndpoints
{
    /// <summary>Maps the endpoint by which the notice of the first start is accepted, a plain form.</summary>
    public static void MapSettings(this WebApplication app) =>
        app.MapPost("/api/notice", (ClinicData data) => Answers.From(data.AcceptNotice(), _ => Results.Redirect("/what-is-left")));
}
