using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Records;
using Secondpass.Records.Events;
using Secondpass.Tests.Exchange.Letters;
using Secondpass.Tests.Records;

namespace Secondpass.Tests.Job.Chairside;

/// <summary>A store with one invented case whose canals are noted, and a clock one hour ahead of Greenwich that stands at 10:30.</summary>
internal sealed class ChairsideStore : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public ChairsideStore()
    {
        Store = ClinicStore.Open(folder.Path, Clock).Value;
        var opened = Store.Cases.Open(InventedLetter.Opened, new Author("Ann", "desk")).Value;
        Id = opened.Id;
        Note(new CanalsNoted(InventedLetter.Canals));
    }

    public SetClock Clock { get; } = new();

    public ClinicStore Store { get; }

    public CaseId Id { get; }

    public Writer By { get; } = new("Ann", "chair");

    public DentalCase Case => Store.Cases.Read(Id).Value;

    public void Note(params CaseEvent[] happened) => _ = Store.Cases.Append(Id, Case.Version, new Author("Ann", "desk"), happened).Value;

    public void Dispose()
    {
        Store.Dispose();
        folder.Dispose();
    }
}
