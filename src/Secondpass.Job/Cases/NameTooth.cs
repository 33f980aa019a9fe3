using Secondpass.Domain;
using Secondpass.Domain.Anatomy;

namespace Secondpass.Job.Cases;

/// <summary>Says in words which tooth is meant, because the same digits mean different teeth.</summary>
/// <param name="clinic">Says in which notation the clinic writes teeth.</param>
public sealed class NameTooth(ClinicHabits clinic)
{
    /// <summary>The tooth in words, with what the same text would mean elsewhere.</summary>
    /// <param name="text">What was typed.</param>
    /// <returns>The words; or a refusal when it is no tooth in any notation.</returns>
    public Answer<ToothInWords> Of(string? text)
    {
        if (!WrittenTooth.Read(text, clinic.Notation).TryGet(out var tooth, out var refusal))
        {
            return refusal;
        }

        if (tooth.Notation != clinic.Notation)
        {
            return new ToothInWords($"{tooth.Tooth.Words}, read in {WrittenTooth.NameOf(tooth.Notation)}; it is no tooth in {WrittenTooth.NameOf(clinic.Notation)}", OtherNotation: true);
        }

        var elsewhere = WrittenTooth.Elsewhere(text, clinic.Notation).Select(other => $"{other.Tooth.Words} in {WrittenTooth.NameOf(other.Notation)}");
        return new ToothInWords(string.Join("; not the ", elsewhere.Prepend(tooth.Tooth.Words)), OtherNotation: false);
    }
}

/// <summary>A tooth in words.</summary>
/// <param name="Words">The words.</param>
/// <param name="OtherNotation">Whether it was read in another notation than the clinic's own, and must be confirmed.</param>
public sealed record ToothInWords(string Words, bool OtherNotation);
