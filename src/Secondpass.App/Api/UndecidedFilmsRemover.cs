using Secondpass.Job;

namespace Secondpass.App.Api;

/// <summary>Removes films that nobody decided about, every hour while the workbench runs.</summary>
internal sealed class UndecidedFilmsRemover(ClinicData data, TimeProvider time) : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var hourly = new PeriodicTimer(TimeSpan.FromHours(1), time);
        try
        {
            while (await hourly.WaitForNextTickAsync(stoppingToken))
            {
                data.RemoveUndecidedFilms();
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The workbench stops.
        }
    }
}
