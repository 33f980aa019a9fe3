using System.Globalization;
using Secondpass.Domain;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;

namespace Secondpass.Removal.Planner;

/// <summary>The kinds and the instruments in stock, and what was said about them while planning: once a kind, however many canals need it.</summary>
internal sealed class Toolbox(PlanRequest request)
{
    private readonly Dictionary<(string Kind, string? Canal), PlannedUse?> uses = [];
    private readonly Dictionary<string, int> plannedUses = [];
    private readonly List<Refusal> refusals = [];

    /// <summary>What was not taken, and why, in the order in which it came up.</summary>
    public IReadOnlyList<Refusal> Refusals => refusals;

    /// <summary>A kind by its code, or null.</summary>
    public InstrumentKind? Find(string code) => request.Kinds.FirstOrDefault(kind => kind.Code == code);

    /// <summary>Notes what was not taken; the same is said once.</summary>
    public void Refuse(Refusal refusal)
    {
        if (!refusals.Exists(said => said.Code == refusal.Code && said.Reason == refusal.Reason))
        {
            refusals.Add(refusal);
        }
    }

    /// <summary>Whether a kind may be proposed: an ultrasonic tip that doesn't fit the unit never is.</summary>
    public bool MayBeProposed(InstrumentKind kind)
    {
        if (SequenceCheck.WhyItDoesNotFit(kind, request.Unit) is not { } misfit)
        {
            return true;
        }

        Refuse(misfit);
        return false;
    }

    /// <summary>A kind of a sort that may be proposed: one with life left in stock first, then in the order of the list.</summary>
    /// <param name="sort">The sort.</param>
    /// <param name="size">Tip size asked for; null for any.</param>
    public InstrumentKind? OfSort(InstrumentSort sort, int? size = null) => request.Kinds
        .Where(kind => kind.Sort == sort && (size is null || kind.TipSize == size) && SequenceCheck.WhyItDoesNotFit(kind, request.Unit) is null)
        .OrderBy(kind => request.Items.Any(item => item.KindCode == kind.Code && item.HasLifeLeft(kind)) ? 0 : 1)
        .FirstOrDefault();

    /// <summary>The instrument in stock that a kind is taken from: one already begun before a fresh one. None left is said, and stops nothing.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="canal">The canal that it is used in; where the clinic counts uses per canal each is another one.</param>
    public PlannedUse? UseOf(InstrumentKind kind, string canal)
    {
        var place = (kind.Code, request.UseCount == UseCount.PerCanal ? canal : null);
        if (uses.TryGetValue(place, out var chosen))
        {
            return chosen;
        }

        List<InstrumentItem> stock =
        [
            .. request.Items
                .Where(item => item.KindCode == kind.Code && !item.Retired)
                .Select(item => item with { Uses = item.Uses + plannedUses.GetValueOrDefault(item.Id) }),
        ];
        var taken = stock.Where(item => item.HasLifeLeft(kind)).OrderByDescending(item => item.Uses).ThenBy(item => item.Id, StringComparer.Ordinal).FirstOrDefault();
        if (taken is null && stock.Count > 0)
        {
            var spent = string.Join("; ", stock.Select(item => string.Create(CultureInfo.InvariantCulture, $"{item.CalledBy}: {item.Uses} of {kind.UsesPermitted} uses{PlannedHere(item.Id)}")));
            Refuse(new Refusal(
                "no_uses_left",
                $"No {kind.Name} with uses left ({spent}).",
                "Open a new one and enter it under Instruments. The plan doesn't wait for it: after the visit it asks what was used.",
                new Dictionary<string, double> { ["uses"] = stock.Min(item => item.Uses), ["uses_permitted"] = kind.UsesPermitted ?? 0 }));
        }

        if (taken is not null)
        {
            plannedUses[taken.Id] = plannedUses.GetValueOrDefault(taken.Id) + 1;
        }

        return uses[place] = taken is null ? null : new PlannedUse(taken.Id, taken.CalledBy, taken.NextUse(kind));
    }

    private string PlannedHere(string itemId) => plannedUses.TryGetValue(itemId, out var planned)
        ? string.Create(CultureInfo.InvariantCulture, $", {planned} of them in this plan")
        : string.Empty;
}
