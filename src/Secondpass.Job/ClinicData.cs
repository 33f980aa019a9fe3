using Secondpass.Domain;
using Secondpass.Records;

namespace Secondpass.Job;

/// <summary>The clinic's data on this computer as a whole: where they are, and what holds for all of them.</summary>
/// <param name="store">The store.</param>
public sealed class ClinicData(ClinicStore store)
{
    /// <summary>The data folder.</summary>
    public string Folder => store.Folder;

    /// <summary>Whether the notice of the first start was accepted here.</summary>
    public bool NoticeAccepted => store.NoticeAccepted;

    /// <summary>Notes that the notice of the first start was accepted.</summary>
    /// <returns>The number of the entry; or a refusal: the store can't be written.</returns>
    public Answer<long> AcceptNotice() => store.AcceptNotice();

    /// <summary>The recovery sheet to print: the clinic key in groups. Whoever has it and a copy of the data can read every case.</summary>
    public string RecoverySheet() => store.RecoverySheet();

    /// <summary>Removes films that nobody decided about for a day.</summary>
    public void RemoveUndecidedFilms() => store.RemoveUndecidedFilms();
}
