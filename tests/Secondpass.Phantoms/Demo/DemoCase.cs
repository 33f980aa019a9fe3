using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;
using Secondpass.Phantoms.Imaging;
using Secondpass.Phantoms.Truth;

namespace Secondpass.Phantoms.Demo;

/// <summary>One invented case of the demonstration.</summary>
/// <param name="Folder">Name of its folder.</param>
/// <param name="Story">What it shows, in a sentence.</param>
/// <param name="ToothNumber">The tooth after ISO 3950.</param>
/// <param name="AfterState">What stands in the canals on the film after, as in a case file.</param>
/// <param name="Seed">Everything not chosen follows from it.</param>
/// <param name="Options">What is chosen.</param>
/// <param name="Residue">What is left, given the tooth.</param>
/// <param name="PinsBetween">Marks between orifice and end in the case file.</param>
/// <param name="OnlyBefore">Whether treatment has not begun: there is no film after.</param>
internal sealed record DemoCase(
    string Folder,
    string Story,
    string ToothNumber,
    string AfterState,
    int Seed,
    PairOptions Options,
    Func<PhantomTooth, Residue> Residue,
    int PinsBetween,
    bool OnlyBefore = false)
{
    private static readonly Exposure Sensor = new() { Bits = 12 };

    private static readonly PairChange Careful = new()
    {
        HorizontalDegrees = 1.5,
        VerticalDegrees = -1.2,
        RotationDegrees = 2.4,
        ShiftX = 14,
        ShiftY = -18,
        ToothToFilmMillimetres = 0.8,
        ExposureFactor = 0.8,
        Gamma = 0.8,
    };

    /// <summary>All cases.</summary>
    public static IReadOnlyList<DemoCase> All { get; } =
    [
        new(
            "upper-molar-missed-canal",
            "Filling is left in the apical third of MB1; the last treatment missed MB2, and MB1's filling lies off the middle of its root.",
            "16",
            "removed",
            53,
            Pair(ToothKind.UpperMolar, new ToothOptions { SecondCanalMissed = true, CurveDegrees = 24, CurveRadiusMillimetres = 9, ShortMillimetres = 0.8, Voids = 1, Crown = CrownRestoration.Composite, Lesion = true }, Careful),
            tooth => new Residue(new Dictionary<string, BranchResidueShape>
            {
                ["MB1"] = Apical(tooth, "MB1"),
                ["P"] = Left(tooth, 3, ("P", 0.01)).Of("P"),
            }),
            1),
        new(
            "lower-molar-split-distal-canal",
            "The distal canal splits in its middle third; the branch DL is hardly cleaned, MB is clean.",
            "46",
            "removed",
            71,
            Pair(ToothKind.LowerMolar, new ToothOptions { Splits = true, CurveDegrees = 20, CurveRadiusMillimetres = 10, ShortMillimetres = 0.6, Voids = 1, Crown = CrownRestoration.Composite, Lesion = false }, Careful with { HorizontalDegrees = -2, RotationDegrees = -3 }, horizontal: 18),
            tooth => Left(tooth, 4, ("MB", 0), ("ML", 0.06), ("D", 0.10), ("DL", 0.65)),
            1),
        new(
            "upper-incisor-none-visible",
            "No filling is left. Films with 8 bits.",
            "11",
            "removed",
            32,
            Pair(ToothKind.UpperIncisor, new ToothOptions { Splits = false, CurveDegrees = 8, ShortMillimetres = 1, Voids = 2, Crown = CrownRestoration.Composite, Lesion = true }, Careful, bits: 8),
            _ => Contents.Residue.Nothing,
            0),
        new(
            "lower-premolar-instrument-in",
            "An instrument stands in the canal on the film after: what is left cannot be judged.",
            "45",
            "instrument_in",
            44,
            Pair(ToothKind.LowerPremolar, new ToothOptions { Splits = false, CurveDegrees = 22, CurveRadiusMillimetres = 10, ShortMillimetres = 2, Crown = CrownRestoration.Composite, Lesion = false }, Careful) with
            {
                After = contents => contents with { Clamp = true, Instruments = [new StandingInstrument("C", 13.2, 0.20, 2)] },
            },
            tooth => Left(tooth, 6, ("C", 0.15)),
            1),
        new(
            "lower-premolar-beyond-the-end",
            "The old filling was pressed beyond the canal's end; a plug at the end is left, some of it beyond.",
            "35",
            "removed",
            65,
            Pair(ToothKind.LowerPremolar, new ToothOptions { Splits = false, CurveDegrees = 12, ShortMillimetres = -1.2, Voids = 0, Crown = CrownRestoration.Amalgam, Lesion = true }, Careful with { RotationDegrees = -1.5 }),
            tooth => new Residue(new Dictionary<string, BranchResidueShape>
            {
                ["C"] = new([Contents.Residue.Plug(tooth.Canal("C").EndY - 1.8, tooth.Canal("C").EndY + 1.2)], Inverted: false),
            }),
            0),
        new(
            "upper-premolar-two-roots",
            "Two roots behind each other, parted by turning the tube; filling is left in the palatal canal.",
            "14",
            "removed",
            86,
            Pair(ToothKind.UpperPremolar, new ToothOptions { CurveDegrees = 14, ShortMillimetres = 0.8, Voids = 1, Crown = CrownRestoration.MetalCrown, Lesion = false }, Careful with { HorizontalDegrees = 2 }, horizontal: 20),
            tooth => Left(tooth, 8, ("B", 0.03), ("P", 0.28)),
            1),
        new(
            "lower-molar-dressing",
            "A radiopaque dressing fills the canals on the film after: what is left cannot be judged.",
            "36",
            "dressing",
            97,
            Pair(ToothKind.LowerMolar, new ToothOptions { Splits = false, CurveDegrees = 26, CurveRadiusMillimetres = 8, ShortMillimetres = 1.2, Crown = CrownRestoration.Composite, Lesion = true }, Careful, horizontal: 14) with
            {
                After = contents => contents with { Medium = CanalMedium.RadiopaqueDressing },
            },
            tooth => Left(tooth, 9, ("MB", 0.1), ("ML", 0.05), ("D", 0.02)),
            1),
        new(
            "clinic/straight-canal",
            "A straight canal, loosely filled.",
            "21",
            "removed",
            38,
            Pair(ToothKind.UpperIncisor, new ToothOptions { Splits = false, CurveDegrees = 2, HiddenCurveShare = 0, ShortMillimetres = 1.6, Voids = 3, Crown = CrownRestoration.Composite, Lesion = true }, PairChange.None, bits: 8),
            _ => Contents.Residue.Nothing,
            0,
            OnlyBefore: true),
        new(
            "clinic/distal-root-splits-at-its-tip",
            "The distal canal splits in its apical third.",
            "47",
            "removed",
            74,
            Pair(ToothKind.LowerMolar, new ToothOptions { Splits = true, SplitShare = 0.72, CurveDegrees = 18, CurveRadiusMillimetres = 11, ShortMillimetres = 1.0, Voids = 0, Crown = CrownRestoration.MetalCrown, Lesion = true }, PairChange.None, horizontal: 18, bits: 8),
            _ => Contents.Residue.Nothing,
            1,
            OnlyBefore: true),
        new(
            "clinic/short-with-a-ledge",
            "A curved canal, filled to where the curve begins.",
            "44",
            "removed",
            49,
            Pair(ToothKind.LowerPremolar, new ToothOptions { Splits = false, CurveDegrees = 28, CurveRadiusMillimetres = 8, ShortMillimetres = 3.6, Voids = 1, Crown = CrownRestoration.Amalgam, Lesion = true }, PairChange.None, bits: 8),
            _ => Contents.Residue.Nothing,
            1,
            OnlyBefore: true),
    ];

    /// <summary>Takes the two films.</summary>
    public PhantomPair Make() => PhantomPair.Make(Seed, Options with { Residue = Residue });

    private static PairOptions Pair(ToothKind kind, ToothOptions tooth, PairChange change, double horizontal = 0, int bits = 12) => new()
    {
        Kind = kind,
        Tooth = tooth,
        Change = change,
        Exposure = Sensor with { Bits = bits },
        Geometry = geometry => geometry with { Width = 700, Height = 1000, AimY = geometry.AimY - 3.4, HorizontalDegrees = horizontal },
    };

    private static Residue Left(PhantomTooth tooth, int seed, params ReadOnlySpan<(string Branch, double Share)> shares)
    {
        var byBranch = new Dictionary<string, double>();
        foreach (var (branch, share) in shares)
        {
            byBranch[branch] = share;
        }

        return Contents.Residue.Drawn(tooth, seed, byBranch);
    }

    private static BranchResidueShape Apical(PhantomTooth tooth, string branch)
    {
        var filling = tooth.Canal(branch).Filling!;
        return new BranchResidueShape(
            [
                Contents.Residue.Plug(filling.ToY - 1.4, filling.ToY - 0.2),
                new CanalPatch(filling.ToY - 2.2, 1.3, 0.3, 1.1, 0.4, 1),
            ],
            Inverted: false);
    }
}
