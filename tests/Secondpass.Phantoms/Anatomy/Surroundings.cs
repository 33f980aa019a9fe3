namespace Secondpass.Phantoms.Anatomy;

/// <summary>The crown of a tooth: solids by what they consist of.</summary>
/// <param name="Restoration">What restores it.</param>
/// <param name="Dentine">Cores of dentine.</param>
/// <param name="Enamel">Outlines with the enamel included.</param>
/// <param name="Shell">Outlines with a metal crown included; empty without one.</param>
/// <param name="Plug">The filling over the access cavity.</param>
/// <param name="Chamber">The pulp chamber.</param>
/// <param name="Access">The opening cut from the biting surface to the chamber.</param>
/// <param name="Closure">The temporary filling that closes it.</param>
/// <param name="TopY">y of the biting edge.</param>
internal sealed record CrownAnatomy(
    CrownRestoration Restoration,
    IReadOnlyList<Column> Dentine,
    IReadOnlyList<Column> Enamel,
    IReadOnlyList<Column> Shell,
    Column Plug,
    Column Chamber,
    Column Access,
    Column Closure,
    double TopY);

/// <summary>A tooth beside the one treated.</summary>
/// <param name="Roots">Its roots.</param>
/// <param name="Dentine">Its crown's dentine.</param>
/// <param name="Enamel">Its crown's outline.</param>
/// <param name="Pulp">Its chamber and canals.</param>
/// <param name="Metal">Amalgam in its crown; empty without.</param>
internal sealed record Neighbour(
    IReadOnlyList<Column> Roots,
    IReadOnlyList<Column> Dentine,
    IReadOnlyList<Column> Enamel,
    IReadOnlyList<Column> Pulp,
    IReadOnlyList<Column> Metal);

/// <summary>What stands around the tooth.</summary>
/// <param name="Neighbours">The teeth beside it.</param>
/// <param name="CrestY">y of the bone's crest between the teeth.</param>
/// <param name="CrestSlope">Rise of the crest in mm per mm of x.</param>
/// <param name="BoneHalfDepth">Half the depth of the jaw in mm, far below the crest.</param>
/// <param name="CortexDepth">Thickness of a cortical plate in mm.</param>
/// <param name="CheekDepth">Thickness of cheek or lip in mm.</param>
/// <param name="Grain">Size of the bone's meshes, 1 for the usual.</param>
/// <param name="Density">Share of trabeculae in the spongy bone, 1 for the usual.</param>
/// <param name="Lesions">Places where the bone is lost.</param>
internal sealed record Surroundings(
    IReadOnlyList<Neighbour> Neighbours,
    double CrestY,
    double CrestSlope,
    double BoneHalfDepth,
    double CortexDepth,
    double CheekDepth,
    double Grain,
    double Density,
    IReadOnlyList<Column> Lesions);
