using Secondpass.Job;
using Secondpass.Job.Demo;

namespace Secondpass.App.Api;

/// <summary>Fills the invented clinic while the workbench already answers: its films are measured and compared like a user's, which takes seconds.</summary>
internal sealed class InventedClinic(ClinicData data, TimeProvider time)
{
    /// <summary>Whether the store is its own.</summary>
    public bool IsOffered { get; private set; }

    /// <summary>Whether it is being filled.</summary>
    public bool IsBeingFilled { get; private set; }

    /// <summary>Plays what is missing of it into the store.</summary>
    /// <param name="address">Where the events are: null for a database in the data folder.</param>
    /// <param name="stop">Stops after the step that is being played.</param>
    public async Task Fill(string? address, CancellationToken stop)
    {
        (IsOffered, IsBeingFilled) = (true, true);
        var played = await Task.Run(() => OpenDemoClinic.Play(DemoExamples.ClinicFolder, data.Folder, time, address, stop), CancellationToken.None);
        IsBeingFilled = false;
        IsOffered = played.IsGiven;
        if (!played.TryGet(out _, out var refusal))
        {
            await Console.Error.WriteLineAsync($"The invented clinic is not complete. {refusal.Reason} {refusal.Remedy}");
        }
    }
}
