using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Instruments;
using Secondpass.Domain.Plans;

namespace Secondpass.Domain.Clinics;

/// <summary>The clinic as its events say, in order.</summary>
/// <remarks>Not stored: it is read off the events. Version counts them and guards edits.</remarks>
public sealed record Clinic
{
    private Clinic()
    {
    }

    /// <summary>A clinic of which nothing was entered yet.</summary>
    public static Clinic Start { get; } = new();

    /// <summary>How it is named on letters; null when not entered yet.</summary>
    public ClinicDetails? Details { get; private init; }

    /// <summary>Kinds of instruments, the shipped ones first: what the clinic entered replaces a shipped kind of the same code. Under a rule of single use every file permits one use.</summary>
    public IReadOnlyList<InstrumentKind> Kinds => UseCount == UseCount.SingleUse
        ? [.. EnteredKinds.Select(kind => kind.Sort.IsFile() ? kind with { UsesPermitted = 1 } : kind)]
        : EnteredKinds;

    /// <summary>Instruments in stock, in the order in which they were taken in; their uses are those that they had before.</summary>
    public IReadOnlyList<InstrumentItem> Items { get; private init; } = [];

    /// <summary>The ultrasonic unit; null when not entered yet.</summary>
    public UltrasonicUnit? Unit { get; private init; }

    /// <summary>Sequences, the shipped example first; the first is the one that a plan takes.</summary>
    public IReadOnlyList<Sequence> Sequences { get; private init; } = [ShippedSequences.Example];

    /// <summary>What it does about solvents.</summary>
    public SolventPreference Solvent { get; private init; } = SolventPreference.None;

    /// <summary>How it counts uses of its instruments; per tooth and visit until it said otherwise.</summary>
    public UseCount UseCount { get; private init; }

    /// <summary>What its plans keep to.</summary>
    public PlanLimits Limits { get; private init; } = PlanLimits.Default;

    /// <summary>The notation in which it writes teeth; ISO 3950 until another one was chosen.</summary>
    public ToothNotation Notation { get; private init; } = ToothNotation.Iso3950;

    /// <summary>The currency in which it tells fees, in three letters of ISO 4217; null until one was chosen.</summary>
    public string? CurrencyCode { get; private init; }

    /// <summary>How many events it was read off.</summary>
    public long Version { get; private init; }

    // As entered: a rule of single use that is given up again leaves what the makers permit.
    private IReadOnlyList<InstrumentKind> EnteredKinds { get; init; } = ShippedKinds.All;

    /// <summary>Reads a clinic off its events.</summary>
    public static Clinic From(IReadOnlyList<ClinicEvent> events)
    {
        ArgumentNullException.ThrowIfNull(events);
        return events.Aggregate(Start, (so, next) => so.With(next));
    }

    /// <summary>The clinic after one more event; an event that it doesn't know leaves it as it is.</summary>
    public Clinic With(ClinicEvent next)
    {
        var with = next switch
        {
            ClinicNamed named => this with { Details = named.Details },
            KindEntered entered => this with { EnteredKinds = Replaced(EnteredKinds, entered.Kind, kind => kind.Code) },
            ItemAdded added => this with { Items = Replaced(Items, new InstrumentItem(added.ItemId, added.KindCode, added.Position, added.UsesBefore, Retired: false), item => item.Id) },
            ItemPlaced placed => this with { Items = [.. Items.Select(item => item.Id == placed.ItemId ? item with { Position = placed.Position } : item)] },
            ItemRetired retired => this with { Items = [.. Items.Select(item => item.Id == retired.ItemId ? item with { Retired = true } : item)] },
            UltrasonicUnitEntered unit => this with { Unit = unit.Unit },
            SequenceSaved saved => this with { Sequences = Replaced(Sequences, saved.Sequence, sequence => sequence.Name) },
            SequenceGivenUp given => this with { Sequences = [.. Sequences.Where(sequence => sequence.Name != given.Name)] },
            SolventPreferred preferred => this with { Solvent = preferred.Preference },
            UseCountChosen chosen => this with { UseCount = chosen.Count },
            PlanLimitsSet set => this with { Limits = set.Limits },
            NotationChosen chosen => this with { Notation = chosen.Notation },
            CurrencyChosen chosen => this with { CurrencyCode = chosen.CurrencyCode },
            _ => this,
        };
        return with with { Version = Version + 1 };
    }

    /// <summary>The same with each instrument's uses counted: those it had before, and those at the chair.</summary>
    /// <param name="uses">All uses by the instrument's identity.</param>
    public Clinic WithUses(IReadOnlyDictionary<string, int> uses) =>
        this with { Items = [.. Items.Select(item => item with { Uses = uses.GetValueOrDefault(item.Id, item.Uses) })] };

    // What has the same name is replaced in its place; what is new comes last.
    private static List<T> Replaced<T>(IReadOnlyList<T> all, T entered, Func<T, string> nameOf) =>
        all.Any(one => nameOf(one) == nameOf(entered))
            ? [.. all.Select(one => nameOf(one) == nameOf(entered) ? entered : one)]
            : [.. all, entered];
}
