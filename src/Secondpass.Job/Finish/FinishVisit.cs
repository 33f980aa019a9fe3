using Secondpass.Domain;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Chairside;
using Secondpass.Job.Cases;
using Secondpass.Records;

namespace Secondpass.Job.Finish;

/// <summary>Keeps what a visit ended with.</summary>
/// <param name="store">Where it is kept.</param>
public sealed class FinishVisit(ClinicStore store)
{
    /// <summary>Keeps the finish note of a visit; the last one holds.</summary>
    /// <returns>The case; or a refusal: a number that can't be, an irrigant without a name, no such day, changed meanwhile, disk full.</returns>
    public Answer<DentalCase> Finish(CaseId id, FinishForm form, Writer by)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(by);
        return form.Read().TryGet(out var note, out var refusal)
            ? store.Cases.Append(id, form.Version, by.Author, [new FinishNoted(form.Visit, note)])
            : refusal;
    }
}

/// <summary>Warnings about irrigants as a page shows them.</summary>
/// <param name="First">The one used first.</param>
/// <param name="Second">The one used after it.</param>
/// <param name="Happens">What happens when they meet.</param>
/// <param name="Remedy">What to do.</param>
/// <param name="RestsOn">Where that comes from.</param>
public sealed record ShownIrrigantWarning(string First, string Second, string Happens, string Remedy, string RestsOn)
{
    /// <summary>Warnings for irrigants in order of use.</summary>
    /// <param name="names">Their names.</param>
    public static IReadOnlyList<ShownIrrigantWarning> For(IEnumerable<string?> names) =>
    [
        .. IrrigantInteractions
            .Of([.. names.Select(Typed.Text).OfType<string>().Select(name => new IrrigantUse(name, null, null, null, null))])
            .Select(warning => new ShownIrrigantWarning(warning.First, warning.Second, warning.Happens, warning.Remedy, Words(warning))),
    ];

    private static string Words(IrrigantWarning warning) => warning.RestsOn.Standing == Domain.Evidence.Standing.Published
        ? warning.RestsOn.Source + "."
        : "Common practice, no source.";
}
