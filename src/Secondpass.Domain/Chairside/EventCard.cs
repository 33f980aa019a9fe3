using Secondpass.Domain.Evidence;

namespace Secondpass.Domain.Chairside;

/// <summary>What to mind when something went wrong: a few lines to be read in a moment.</summary>
/// <param name="Event">The event.</param>
/// <param name="Name">What it is called on the screen.</param>
/// <param name="Lines">What to mind, the first thing first.</param>
/// <param name="Known">What is published about it, with its source; empty when the lines are common practice without one.</param>
public sealed record EventCard(ProceduralEvent Event, string Name, IReadOnlyList<string> Lines, IReadOnlyList<ISourced> Known)
{
    /// <summary>The line that stands below every card.</summary>
    public const string Defer = "Follow the maker's instructions, local rules and licensed practice. Medicines and doses are the clinician's decision.";

    /// <summary>A card for each event.</summary>
    public static IReadOnlyList<EventCard> All { get; } =
    [
        new(
            ProceduralEvent.FileStops,
            "File stops short",
            [
                "Don't push. Note the level.",
                "Rinse, then a small hand file, pre-curved, without force.",
                "Keep to the attempts set in the plan; then clean and fill to there, and say so.",
            ],
            []),
        new(
            ProceduralEvent.Ledge,
            "Ledge",
            [
                "No rotary and no straight ultrasonic file on the ledge: stay just short of it.",
                "First a small hand file with a pre-curved tip; only behind it a pre-curved ultrasonic file.",
                "Keep to the attempts set in the plan.",
            ],
            []),
        new(
            ProceduralEvent.SeparatedInstrument,
            "Separated instrument",
            [
                "Stop. Measure what is missing: length, level, canal.",
                "Tell the patient today; note who was told and when.",
                "Leave it, bypass it or take it out: weigh the dentine that removal costs. Pieces in the apical third are the hardest.",
            ],
            [
                ProceduralEventEvidence.HealedWithFragmentAndLesionPercent,
                ProceduralEventEvidence.HealedWithFragmentNoLesionPercent,
                ProceduralEventEvidence.FragmentRemovalFailedPercent,
                ProceduralEventEvidence.FragmentRemovalPerforatedPercent,
            ]),
        new(
            ProceduralEvent.PerforationSuspected,
            "Perforation suspected",
            [
                "Stop. No hypochlorite under pressure near it.",
                "Signs: sudden bleeding, a length meter that reads far too short, pain without reason.",
                "See it under magnification, keep it clean, seal it soon. Tell the patient.",
            ],
            [ProceduralEventEvidence.PerforationRepairedPercent]),
        new(
            ProceduralEvent.BeyondApex,
            "Beyond the apex",
            [
                "Hypochlorite: sudden severe pain, bleeding from the canal, fast swelling. Stop and stay calm; tell the patient.",
                "Let it bleed, don't force anything; draw back and rinse gently with saline. Don't fill.",
                "Cold packs on the first day. See the patient again within 24 hours.",
                "Hospital at once when breathing, swallowing, an eye or a nerve is involved or swelling spreads: the emergency number.",
            ],
            []),
        new(
            ProceduralEvent.Other,
            "Something else",
            ["Stop, look, note what happened and where. Tell the patient."],
            []),
    ];

    /// <summary>The card of an event.</summary>
    /// <param name="happened">The event.</param>
    public static EventCard Of(ProceduralEvent happened) => All.Single(card => card.Event == happened);
}
