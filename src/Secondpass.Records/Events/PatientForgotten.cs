namespace Secondpass.Records.Events;

/// <summary>A patient was forgotten: the key to everything noted about them was destroyed.</summary>
/// <param name="Cases">The cases that can't be read any more.</param>
/// <param name="Uses">What instruments had been used in them: their life is counted on.</param>
internal sealed record PatientForgotten(IReadOnlyList<string> Cases, IReadOnlyList<InstrumentUse> Uses);

/// <summary>An instrument was used in a step.</summary>
/// <param name="CaseId">The case.</param>
/// <param name="Entry">Number of the entry in the case, from 1.</param>
/// <param name="Item">The instrument.</param>
/// <param name="Visit">Number of the visit, from 1.</param>
/// <param name="Canal">Which canal of the case: the first is 1, the second 2. Its name is typed by people and is not kept.</param>
internal sealed record InstrumentUse(string CaseId, long Entry, string Item, long Visit, long Canal);
