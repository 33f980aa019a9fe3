using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>The papers and photographs of a case, to be looked at again.</summary>
/// <param name="store">Where they are.</param>
public sealed class CaseFiles(ClinicStore store)
{
    /// <summary>A file of a case.</summary>
    /// <param name="id">The case.</param>
    /// <param name="sha256">The file.</param>
    /// <returns>The file as it came; or a refusal: it is not this case's, gone, damaged.</returns>
    public Answer<CaseFile> Read(string id, string sha256)
    {
        if (!store.Cases.Read(new CaseId(id)).TryGet(out var it, out var refusal))
        {
            return refusal;
        }

        if (it.Papers.Concat(it.Photographs.Select(photograph => photograph.File)).FirstOrDefault(file => file.Sha256 == sha256) is not { } found)
        {
            return new Refusal("file_not_here", "This file does not belong to the case.", "Open it from the case's own page.");
        }

        return store.Cases.ReadFile(sha256).TryGet(out var bytes, out refusal) ? new CaseFile(found.Name, found.MediaType, bytes) : refusal;
    }
}

/// <summary>A file as it came.</summary>
/// <param name="Name">Its name.</param>
/// <param name="MediaType">What it is.</param>
/// <param name="Bytes">Its bytes.</param>
public sealed record CaseFile(string Name, string MediaType, ReadOnlyMemory<byte> Bytes);
