using Secondpass.Job;
using Secondpass.Job.Demo;

namespace Secondpass.App.Api;

/// <summary>Fills the invented clinic while the workbench already answers: its films are measured and compared like a user's, which takes seconds.</summary>
internal sealed class InventedClinic(ClinicData data, TimeProvider time)
{
    /// <summary>Whether the workbench was started with it.</summary>
    public bool IsOffered { get; private set; }

    /// <summary>Whether it is being filled.</summary>
    public bool IsBeingFilled { get; private set; }

    /// <summary>Plays what is missing of it into the data folder.</summary>
    /// <param name="stop">Stops after the case that is being played.</param>
    public async Task Fill(CancellationToken stop)
    {
        (IsOffered, IsBeingFilled) = (true, true);
        var played = await Task.Run(() => OpenDemoClinic.Play(DemoExamples.ClinicFolder, data.Folder, time, stop: stop), CancellationToken.None);
        IsBeingFilled = false;
        if (!played.TryGet(out _, out var refusal))
        {
            await Console.Error.WriteLineAsync($"The invented clinic is not complete. {refusal.Reason} {refusal.Remedy}");
        }
    }
}
