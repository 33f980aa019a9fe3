using Secondpass.Phantoms.Matter;

namespace Secondpass.Phantoms.Anatomy;

/// <summary>The kinds of teeth that the simulator can grow.</summary>
public enum ToothKind
{
    /// <summary>One root, one canal: upper central incisor.</summary>
    UpperIncisor,

    /// <summary>One root, one canal: lower second premolar.</summary>
    LowerPremolar,

    /// <summary>Two roots, buccal and palatal, behind each other: upper first premolar.</summary>
    UpperPremolar,

    /// <summary>Mesial root with two canals, distal root with one that may split: lower first molar.</summary>
    LowerMolar,

    /// <summary>Mesiobuccal root with one or two filled canals, distobuccal and palatal root: upper first molar.</summary>
    UpperMolar,
}

/// <summary>What of a tooth is chosen instead of drawn by the seed.</summary>
public sealed record ToothOptions
{
    /// <summary>Angle of the curved part of the first root towards x, in degrees; null: drawn, 5 to 35.</summary>
    public double? CurveDegrees { get; init; }

    /// <summary>Radius of that curve in mm; null: drawn, 6 to 15.</summary>
    public double? CurveRadiusMillimetres { get; init; }

    /// <summary>Curvature towards the film (hidden on it) as a share of that towards x; null: drawn, −0.5 to 0.5.</summary>
    public double? HiddenCurveShare { get; init; }

    /// <summary>Whether the last canal splits: the distal one of a lower molar, the only one of an incisor or lower premolar; null: drawn.</summary>
    public bool? Splits { get; init; }

    /// <summary>Where it splits, as a share of the way from orifice to end; null: drawn, 0.4 to 0.55.</summary>
    public double? SplitShare { get; init; }

    /// <summary>Whether the upper molar's MB2, or the lower molar's ML, was left unfilled; null: drawn for MB2, filled for ML.</summary>
    public bool? SecondCanalMissed { get; init; }

    /// <summary>How far the first canal lies off the middle of its root towards x, in mm; null: 0.35 when a canal beside it was missed, else 0.</summary>
    public double? OffCentreMillimetres { get; init; }

    /// <summary>From the filling's end to the canal's end along y, in mm, short positive, beyond negative; null: drawn per canal, −0.3 to 3.</summary>
    public double? ShortMillimetres { get; init; }

    /// <summary>How far below the orifice the filling of each trunk begins, in mm along y.</summary>
    public double BelowOrificeMillimetres { get; init; }

    /// <summary>Number of voids per canal; null: drawn, 0 to 3.</summary>
    public int? Voids { get; init; }

    /// <summary>What the old fillings are made of; null: <see cref="Materials.Filling"/>.</summary>
    public Material? Filling { get; init; }

    /// <summary>Half width of the canals at their ends in mm; null: drawn, 0.15 to 0.22.</summary>
    public double? EndHalfWidthMillimetres { get; init; }

    /// <summary>Whether there is a periapical lesion; null: drawn.</summary>
    public bool? Lesion { get; init; }

    /// <summary>What restores the crown before treatment; null: drawn.</summary>
    public CrownRestoration? Crown { get; init; }
}

/// <summary>What restores the crown before treatment.</summary>
public enum CrownRestoration
{
    /// <summary>A composite filling over the access cavity.</summary>
    Composite,

    /// <summary>An amalgam filling over the access cavity.</summary>
    Amalgam,

    /// <summary>A metal crown on a composite core.</summary>
    MetalCrown,
}
