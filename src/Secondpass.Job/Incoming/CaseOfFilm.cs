using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Records.Events;

namespace Secondpass.Job.Incoming;

/// <summary>Finds the case that a film's file names.</summary>
internal static class CaseOfFilm
{
    /// <summary>The one case of the patient's number and one of the teeth that the file names.</summary>
    /// <param name="stated">What the file says.</param>
    /// <param name="cases">All cases.</param>
    /// <returns>The case; null when the file names no number or no tooth, or when there is none or more than one.</returns>
    public static CaseId? Find(StatedIdentity stated, IReadOnlyList<CaseLine> cases)
    {
        if (stated.PatientNumber is not { } number || stated.Teeth.Count == 0)
        {
            return null;
        }

        var found = cases.Where(line => IdentityDifferences.IsSameNumber(line.PatientNumber, number) && stated.Teeth.Contains(line.Tooth)).Take(2).ToList();
        return found is [var only] && (stated.PatientName is not { } name || only.PatientName is not { } known || IdentityDifferences.IsSameName(name, known)) ? only.Id : null;
    }
}
