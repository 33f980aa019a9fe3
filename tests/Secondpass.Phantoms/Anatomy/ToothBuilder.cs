using Secondpass.Phantoms.Matter;

namespace Secondpass.Phantoms.Anatomy;

/// <summary>Grows teeth. Sizes are textbook means of tooth anatomy with a spread (from memory; nothing is checked against them).</summary>
internal sealed class ToothBuilder(ToothKind kind, int seed, ToothOptions options)
{
    private readonly PhantomRandom random = new(seed, (int)kind + 1);
    private readonly List<PhantomRoot> roots = [];
    private readonly List<PhantomCanal> canals = [];
    private Func<double, (double X, double HalfX, double HalfZ)>? trunkEdge;

    /// <summary>Size of the kinds: crown height and width, neck half widths, how far the necks of neighbours stand away, in mm.</summary>
    private static (double CrownHeight, double CrownHalfX, double CrownHalfZ, double NeckHalfX, double NeckHalfZ) SizeOf(ToothKind kind) => kind switch
    {
        ToothKind.UpperIncisor => (10.5, 4.3, 3.5, 3.2, 3.1),
        ToothKind.LowerPremolar => (8.0, 3.7, 4.2, 2.7, 3.5),
        ToothKind.UpperPremolar => (8.3, 3.6, 4.6, 2.5, 4.1),
        ToothKind.LowerMolar => (7.5, 5.6, 5.2, 4.7, 4.5),
        _ => (7.5, 5.2, 5.6, 4.2, 5.1),
    };

    public PhantomTooth Build()
    {
        var size = SizeOf(kind);
        GrowRoots(size.NeckHalfX, size.NeckHalfZ);
        var crown = GrowCrown(size);
        var surroundings = GrowSurroundings(size);
        return new PhantomTooth(kind, seed, roots, canals, options.Filling ?? Materials.Filling, crown, surroundings);
    }

    private void GrowRoots(double neckX, double neckZ)
    {
        var curve = options.CurveDegrees ?? random.Between(5, 35);
        var radius = options.CurveRadiusMillimetres ?? random.Between(6, 15);
        var hidden = options.HiddenCurveShare ?? random.Between(-0.5, 0.5);
        var side = random.Sign();
        switch (kind)
        {
            case ToothKind.UpperIncisor:
                {
                    var axis = Axis(0, 0, random.Between(-4, 4), random.Between(-2, 4), side * curve * 0.6, radius, hidden, 0.55, random.Between(12.5, 14.5));
                    AddRoot("root", axis, 0, neckX, neckZ, 1.0);
                    AddCanal("C", "root", axis, 0.3, 0, 0, 0, 0, 0.62, 1.15, missed: false);
                    Split("C", 0.45);
                    break;
                }

            case ToothKind.LowerPremolar:
                {
                    var axis = Axis(0, 0, random.Between(-4, 4), random.Between(-3, 3), side * curve, radius, hidden, 0.5, random.Between(13.5, 15.5));
                    AddRoot("root", axis, 0, neckX, neckZ, 1.0);
                    AddCanal("C", "root", axis, 0.3, 0, 0, 0, 0, 0.5, 1.5, missed: false);
                    Split("C", 0.4);
                    break;
                }

            case ToothKind.UpperPremolar:
                {
                    var lean = random.Between(-4, 4);
                    var split = random.Between(4.5, 6.5);
                    var buccal = Axis(-0.25, -1.5, lean + 1.5, -9, side * curve, radius, hidden, 0.5, random.Between(12.5, 14.0));
                    var palatal = Axis(0.25, 1.6, lean - 1.5, 9, side * curve * random.Between(0.2, 0.8), radius, -hidden, 0.5, random.Between(12.0, 13.8));
                    AddTrunk(neckX, neckZ, lean, split, 0.82);
                    AddRoot("B", buccal, split - 3.2, 1.75, 1.6, 0.85);
                    AddRoot("P", palatal, split - 3.2, 1.75, 1.6, 0.85);
                    AddCanal("B", "B", buccal, 0.8, options.OffCentreMillimetres ?? 0, 0, 0, 0, 0.42, 1.1, missed: false);
                    AddCanal("P", "P", palatal, 0.8, 0, 0, 0, 0, 0.45, 1.1, missed: false);
                    break;
                }

            case ToothKind.LowerMolar:
                {
                    var split = random.Between(3.3, 4.3);
                    var mesial = Axis(-2.2, 0, -7, random.Between(-2, 2), curve, radius, hidden, 0.42, random.Between(13.0, 14.8));
                    var distal = Axis(2.1, 0, 6, random.Between(-2, 2), random.Between(-8, 12), radius, hidden * 0.5, 0.5, random.Between(12.5, 14.0));
                    AddTrunk(neckX, neckZ, 0, split, 0.90);
                    AddRoot("M", mesial, split - 3.4, 2.0, 3.7, 0.85);
                    AddRoot("D", distal, split - 3.4, 1.9, 3.1, 0.9);
                    var missed = options.SecondCanalMissed ?? false;
                    var off = options.OffCentreMillimetres ?? (missed ? 0.35 : 0);
                    AddCanal("MB", "M", mesial, 0.8, off + 0.15, -1.45, off + 0.12, -0.75, 0.42, 1.15, missed: false);
                    AddCanal("ML", "M", mesial, 0.8, -off - 0.15, 1.45, -off - 0.12, 0.75, 0.40, 1.15, missed);
                    AddCanal("D", "D", distal, 0.8, 0, 0, 0, 0, 0.52, 1.6, missed: false);
                    Split("D", 0.25);
                    break;
                }

            default:
                {
                    var split = random.Between(3.8, 4.8);
                    var mesial = Axis(-1.9, -2.2, -8, -3, curve, radius, hidden, 0.42, random.Between(12.0, 13.4));
                    var distal = Axis(2.0, -2.2, 7, -3, -curve * random.Between(-0.3, 0.6), radius, -hidden, 0.5, random.Between(11.5, 13.0));
                    var palatal = Axis(0.4, 2.6, random.Between(-2, 2), 14, curve * random.Between(-0.4, 0.4), radius, -0.3, 0.5, random.Between(13.0, 14.4));
                    AddTrunk(neckX, neckZ, 0, split, 0.88);
                    AddRoot("MB", mesial, split - 3.4, 1.75, 3.0, 0.8);
                    AddRoot("DB", distal, split - 3.4, 1.5, 1.8, 0.75);
                    AddRoot("P", palatal, split - 3.4, 2.1, 1.7, 0.9);
                    var missed = options.SecondCanalMissed ?? random.Chance(0.6);
                    var off = options.OffCentreMillimetres ?? (missed ? 0.35 : 0.05);
                    AddCanal("MB1", "MB", mesial, 0.8, off, -1.0, off, -0.55, 0.40, 1.15, missed: false);
                    AddCanal("MB2", "MB", mesial, 1.2, -off - 0.2, 1.1, -off - 0.1, 0.7, missed ? 0.22 : 0.34, 1.1, missed);
                    AddCanal("DB", "DB", distal, 0.8, 0, 0, 0, 0, 0.38, 1.1, missed: false);
                    AddCanal("P", "P", palatal, 0.8, 0, 0, 0, 0, 0.55, 1.05, missed: false);
                    break;
                }
        }
    }

    /// <summary>A root's axis as a function of y: straight from the neck, then an arc, then straight.</summary>
    private static RootAxis Axis(double x, double z, double leanX, double leanZ, double curveDegrees, double radius, double hiddenShare, double curveStartsAtShare, double length) =>
        new(x, z, leanX, leanZ, curveDegrees, radius, hiddenShare, curveStartsAtShare * length, length);

    private void AddTrunk(double neckX, double neckZ, double lean, double splitY, double shrink)
    {
        var slope = Math.Tan(double.DegreesToRadians(lean));
        (double X, double HalfX, double HalfZ) Edge(double y)
        {
            var narrow = 1 - ((1 - shrink) * Math.Clamp(y / splitY, 0, 1));

            // Below the split the roots are free of it.
            var beyond = 0.6 * Math.Max(0, y - splitY);
            return (slope * y, (neckX * narrow) + beyond, (neckZ * narrow) + beyond);
        }

        trunkEdge = Edge;
        roots.Add(new PhantomRoot(
            "trunk",
            Column.From(0, splitY, y =>
            {
                // The trunk runs out between the roots as a rounded saddle.
                var (x, halfX, halfZ) = Edge(y);
                var saddle = Math.Sqrt(Math.Clamp((splitY - y) / 1.2, 0, 1));
                return (x, 0, halfX * saddle, halfZ * saddle);
            })));
    }

    private void AddRoot(string name, RootAxis axis, double fromY, double halfX, double halfZ, double endHalf)
    {
        var apexY = axis.EndY;
        roots.Add(new PhantomRoot(
            name,
            Column.From(fromY, apexY, y =>
            {
                var (x, z, cosineX, cosineZ) = axis.At(y);
                var share = Math.Clamp((y - fromY) / (apexY - fromY), 0, 1);
                var narrow = Math.Pow(share, 1.35);
                var blunt = Math.Sqrt(1 - Math.Pow(Math.Clamp((y - (apexY - 1.4)) / 1.4, 0, 1), 2));
                var rootHalfX = (halfX + ((endHalf - halfX) * narrow)) * blunt / cosineX;
                var rootHalfZ = (halfZ + ((endHalf - halfZ) * narrow)) * blunt / cosineZ;
                if (trunkEdge is null)
                {
                    return (x, z, rootHalfX, rootHalfZ);
                }

                // A root grows out of the trunk without standing out over it.
                var edge = trunkEdge(y);
                var start = Math.Sqrt(Math.Clamp((y - fromY) / 2.4, 0, 1));
                return (
                    x,
                    z,
                    Math.Min(rootHalfX, Math.Max(0.3, edge.HalfX - Math.Abs(x - edge.X))) * start,
                    Math.Min(rootHalfZ, Math.Max(0.3, edge.HalfZ - Math.Abs(z))) * start);
            })));
    }

    /// <summary>Adds a canal that follows a root's axis at an offset that runs from one value at the orifice to another at the end.</summary>
    private void AddCanal(
        string name, string root, RootAxis axis, double orificeY, double offsetX, double offsetZ, double endOffsetX, double endOffsetZ, double orificeHalf, double flatness, bool missed)
    {
        var endY = axis.EndY - random.Between(0.4, 0.9);
        var endHalf = missed ? 0.08 : options.EndHalfWidthMillimetres ?? random.Between(0.15, 0.22);
        var widest = orificeHalf * random.Between(0.9, 1.15);
        var lumen = Column.From(orificeY, endY, y =>
        {
            var (x, z, cosineX, cosineZ) = axis.At(y);
            var share = Math.Clamp((y - orificeY) / (endY - orificeY), 0, 1);
            var half = widest + ((endHalf - widest) * Math.Pow(share, 0.85));
            var flat = flatness + ((1 - flatness) * share);
            return (x + Mix(offsetX, endOffsetX, share), z + Mix(offsetZ, endOffsetZ, share), half / cosineX, half * flat / cosineZ);
        });
        AddFilled(name, null, root, lumen, orificeY, missed);
    }

    /// <summary>Lets a canal split, when that is chosen or drawn with the given chance.</summary>
    private void Split(string trunkName, double chance)
    {
        var splits = options.Splits ?? random.Chance(chance);
        if (!splits)
        {
            return;
        }

        var index = canals.FindIndex(canal => canal.Name == trunkName);
        var trunk = canals[index];
        var root = roots.Single(root => root.Name == trunk.Root).Solid;
        var drawn = random.Between(0.4, 0.55);
        var splitY = trunk.OrificeY + ((trunk.EndY - trunk.OrificeY) * (options.SplitShare ?? drawn));
        var apart = random.Between(0.55, 0.8);
        var endY = trunk.EndY - random.Between(0, 0.5);
        var reach = endY - splitY;

        // Trunk and branch bend away from each other in the film's plane and across it.
        double Away(double y) => Math.Pow(Math.Clamp((y - splitY) / (0.55 * reach), 0, 1.2), 1.1);
        double Within(double room, double wanted) => room <= 0 ? 0 : room * Math.Tanh(wanted / room);
        (double X, double Z, double HalfX, double HalfZ) Bent(double y, double sideways, double narrow)
        {
            var section = trunk.Lumen.SectionAt(y);
            var wall = root.SectionAt(y);

            // At least 0.25 mm of root stays beside the canals.
            var roomX = Math.Max(0, wall.HalfX - Math.Abs(section.X - wall.X) - section.HalfX - 0.25);
            var roomZ = Math.Max(0, wall.HalfZ - Math.Abs(section.Z - wall.Z) - section.HalfZ - 0.25);
            return (
                section.X + (sideways * Within(roomX, apart * Away(y))),
                section.Z + (sideways * Within(roomZ, 0.9 * Away(y))),
                section.HalfX * narrow,
                Math.Min(section.HalfZ, section.HalfX * 1.1) * narrow);
        }

        var trunkLumen = Column.From(trunk.OrificeY, trunk.EndY, y =>
        {
            var (x, z, halfX, halfZ) = Bent(y, -1, 1);
            var plain = trunk.Lumen.SectionAt(y);
            var blend = Math.Clamp((y - splitY) / 0.8, 0, 1);
            return (x, z, Mix(plain.HalfX, halfX * 0.9, blend), Mix(plain.HalfZ, halfZ * 0.9, blend));
        });
        var branchLumen = Column.From(splitY, endY, y => Bent(y, 1, 0.85));
        canals.RemoveAt(index);
        var name = trunkName == "D" ? "DL" : "L";
        AddFilled(trunkName, null, trunk.Root, trunkLumen, trunk.OrificeY, missed: false);
        AddFilled(name, trunkName, trunk.Root, branchLumen, trunk.OrificeY, missed: false);
    }

    private void AddFilled(string name, string? parent, string root, Column lumen, double orificeY, bool missed)
    {
        var shortBy = options.ShortMillimetres ?? random.Between(-0.3, 3);
        var voids = new List<CanalPatch>();
        Column? filling = null;
        if (!missed)
        {
            var endY = lumen.ToY - shortBy;
            filling = Column.From(lumen.FromY + (parent is null ? options.BelowOrificeMillimetres : 0), endY, y =>
            {
                var section = lumen.SectionAt(Math.Min(y, lumen.ToY));
                var slopeX = y > lumen.ToY ? (section.X - lumen.SectionAt(lumen.ToY - 0.5).X) / 0.5 : 0;
                var slopeZ = y > lumen.ToY ? (section.Z - lumen.SectionAt(lumen.ToY - 0.5).Z) / 0.5 : 0;
                var beyond = Math.Max(0, y - lumen.ToY);
                var fit = 0.985;
                var blunt = Math.Sqrt(1 - Math.Pow(Math.Clamp((y - (endY - 0.15)) / 0.15, 0, 1), 2) + 0.02);
                return (section.X + (slopeX * beyond), section.Z + (slopeZ * beyond), section.HalfX * fit * blunt, section.HalfZ * fit * blunt);
            });
            var count = options.Voids ?? random.Whole(0, 3);
            for (var i = 0; i < count; i++)
            {
                voids.Add(new CanalPatch(
                    random.Between(filling.FromY + 1, filling.ToY - 0.5),
                    random.Between(0.15, 0.7),
                    random.Between(-Math.PI, Math.PI),
                    random.Between(0.5, 1.6),
                    random.Between(0.2, 0.6),
                    1));
            }
        }

        canals.Add(new PhantomCanal(name, parent, root, lumen, orificeY, filling, voids));
    }

    private CrownAnatomy GrowCrown((double CrownHeight, double CrownHalfX, double CrownHalfZ, double NeckHalfX, double NeckHalfZ) size)
    {
        var drawn = random.Whole(0, 5);
        var restoration = options.Crown ?? (drawn <= 2 ? CrownRestoration.Composite : drawn <= 4 && kind != ToothKind.UpperIncisor ? CrownRestoration.Amalgam : CrownRestoration.MetalCrown);
        var height = size.CrownHeight * random.Between(0.94, 1.05);
        var (enamel, dentine) = CrownSolids(kind, size, height);
        var shell = restoration == CrownRestoration.MetalCrown
            ? enamel.Select(solid => solid.Grown(0.35, carryEndOn: false)).ToList()
            : [];

        // The chamber lies over the orifices and reaches from there up into the crown.
        var orifices = canals.Where(canal => canal.Parent is null).Select(canal => canal.Lumen.SectionAt(canal.OrificeY)).ToList();
        var (lowX, highX) = (orifices.Min(s => s.X - s.HalfX), orifices.Max(s => s.X + s.HalfX));
        var (lowZ, highZ) = (orifices.Min(s => s.Z - s.HalfZ), orifices.Max(s => s.Z + s.HalfZ));
        var floorY = canals.Min(canal => canal.OrificeY) + 0.3;
        var roofY = kind == ToothKind.UpperIncisor ? -0.55 * height : -1.8;
        Column Opening(double fromY, double toY, double grow, double flare, bool open = false) => Column.From(fromY, toY, y =>
        {
            var up = Math.Clamp((toY - y) / height, 0, 1);
            var rounded = 0.35 + (0.65 * Math.Sqrt(Math.Clamp((toY - y) / 0.8, 0, 1)));
            rounded *= open ? 1 : 0.6 + (0.4 * Math.Sqrt(Math.Clamp((y - fromY) / 0.7, 0, 1)));
            return ((lowX + highX) / 2, (lowZ + highZ) / 2, (((highX - lowX) / 2 * 0.95) + grow + (flare * up)) * rounded, (((highZ - lowZ) / 2 * 0.9) + grow + (flare * up)) * rounded);
        });
        var chamber = Opening(roofY, floorY, 0.15, 0.1);
        var access = Opening(-height - 1.5, floorY, 0.15, 0.7, open: true);
        var closure = Opening(-0.8 * height, floorY, 0.15, 0.7);
        var plug = restoration == CrownRestoration.Amalgam
            ? Opening(-0.82 * height, -0.40 * height, 0.5, 0.5)
            : Opening((kind == ToothKind.UpperIncisor ? -0.5 : -0.8) * height, roofY + 1.3, -0.1, 0.3);
        return new CrownAnatomy(restoration, dentine, enamel, shell, plug, chamber, access, closure, -height);
    }

    private static (IReadOnlyList<Column> Enamel, IReadOnlyList<Column> Dentine) CrownSolids(
        ToothKind kind, (double CrownHeight, double CrownHalfX, double CrownHalfZ, double NeckHalfX, double NeckHalfZ) size, double height)
    {
        if (kind == ToothKind.UpperIncisor)
        {
            // From the neck the crown widens to its cutting edge and thins to a wedge.
            Column Wedge(double inset, double top) => Column.From(-height + top, 0.1, y =>
            {
                var up = Math.Clamp(-y / height, 0, 1);
                var wide = size.NeckHalfX + ((size.CrownHalfX - size.NeckHalfX) * Math.Pow(up, 0.7));
                var corner = Math.Pow(Math.Clamp((y + height - top) / 0.5, 0, 1), 0.35);
                var thick = size.NeckHalfZ + ((0.75 - size.NeckHalfZ) * Math.Pow(up, 0.9)) + (0.6 * Math.Sin(up * Math.PI));
                var neck = Math.Pow(Math.Clamp(-y / 3.5, 0, 1), 0.8);
                return (0, -1.2 * up, Math.Max(0, wide - (inset * neck)) * corner, Math.Max(0.2, thick - (inset * neck)) * corner);
            });
            return ([Wedge(0, 0)], [Wedge(0.75, 1.3)]);
        }

        // A belly between neck and biting surface, rounded off at the top, carrying cusps. Enamel thins out towards the neck.
        var table = -0.78 * height;
        double HalfAt(double y, double neck, double widest)
        {
            var up = Math.Clamp(-y / height, 0, 1);
            var bulge = Math.Sin(Math.Min(1, up / 0.55) * Math.PI / 2);
            var waist = up > 0.55 ? 1 - (0.5 * Math.Pow((up - 0.55) / 0.45, 2)) : 1;
            return (neck + ((widest - neck) * bulge)) * waist;
        }

        Column Belly(double inset, double lower) => Column.From(table + lower, 0.1, y =>
        {
            var skin = inset * Math.Pow(Math.Clamp(-y / 2.6, 0, 1), 0.8);
            var dome = Math.Sqrt(Math.Clamp((y - table - lower) / 2.4, 0, 1));
            return (0, 0, (HalfAt(y, size.NeckHalfX, size.CrownHalfX) - skin) * dome, (HalfAt(y, size.NeckHalfZ, size.CrownHalfZ) - skin) * dome);
        });
        var molar = kind is ToothKind.LowerMolar or ToothKind.UpperMolar;
        var cusps = molar
            ? new (double X, double Z, double Height)[] { (-0.50, -0.45, 1.0), (0.46, -0.45, 0.94), (-0.46, 0.48, 0.96), (0.50, 0.46, 0.90) }
            : [(-0.04, -0.48, 1.0), (0.05, 0.5, 0.86)];

        // A blunt tip on a cone that runs into the belly's side.
        Column Cusp((double X, double Z, double Height) cusp, double inset)
        {
            var tip = -(height * cusp.Height) + (inset * 1.4);
            var foot = table + 2.4;
            var outerX = (HalfAt(foot, size.NeckHalfX, size.CrownHalfX) * 0.99) - (Math.Abs(cusp.X) * size.CrownHalfX);
            var outerZ = (HalfAt(foot, size.NeckHalfZ, size.CrownHalfZ) * 0.99) - (Math.Abs(cusp.Z) * size.CrownHalfZ);
            return Column.From(tip, foot + 3.2, y =>
            {
                var cone = Math.Pow(Math.Sin(Math.Clamp((y - tip) / (foot - tip), 0, 1) * Math.PI / 2), 0.72);

                // Below its foot the cusp goes on as a lobe that sinks into the belly.
                var sunk = Math.Clamp((y - foot) / 3.2, 0, 1);
                var near = 1 - (0.5 * sunk);
                var wide = cone * (1 - (0.45 * sunk * sunk));
                return (cusp.X * size.CrownHalfX * near, cusp.Z * size.CrownHalfZ * near, (outerX - (inset * 0.8)) * wide, (outerZ - (inset * 0.8)) * wide);
            });
        }

        List<Column> enamel = [Belly(0, 0), .. cusps.Select(cusp => Cusp(cusp, 0))];
        List<Column> dentine = [Belly(0.85, 1.0), .. cusps.Select(cusp => Cusp(cusp, 1.0))];
        return (enamel, dentine);
    }

    private Surroundings GrowSurroundings((double CrownHeight, double CrownHalfX, double CrownHalfZ, double NeckHalfX, double NeckHalfZ) size)
    {
        var neighbours = new List<Neighbour>();
        foreach (var side in new[] { -1, 1 })
        {
            var beside = kind switch
            {
                ToothKind.UpperIncisor => ToothKind.UpperIncisor,
                ToothKind.LowerPremolar => side < 0 ? ToothKind.LowerPremolar : ToothKind.LowerMolar,
                ToothKind.UpperPremolar => side < 0 ? ToothKind.UpperPremolar : ToothKind.UpperPremolar,
                ToothKind.LowerMolar => side < 0 ? ToothKind.LowerPremolar : ToothKind.LowerMolar,
                _ => side < 0 ? ToothKind.UpperPremolar : ToothKind.UpperMolar,
            };
            neighbours.Add(GrowNeighbour(beside, side, size.CrownHalfX));
        }

        var upper = kind is ToothKind.UpperIncisor or ToothKind.UpperPremolar or ToothKind.UpperMolar;
        var lesions = new List<Column>();
        if (options.Lesion ?? random.Chance(0.4))
        {
            var root = roots[random.Whole(roots.Count > 1 ? 1 : 0, roots.Count - 1)].Solid;
            var apex = root.SectionAt(root.ToY);
            var half = random.Between(1.2, 3.0);
            lesions.Add(Column.From(root.ToY - (half * 0.8), root.ToY + (half * 1.2), y =>
            {
                var up = (y - root.ToY - (half * 0.2)) / half;
                var round = Math.Sqrt(Math.Clamp(1 - (up * up), 0, 1));
                return (apex.X, apex.Z, half * round, half * round * 0.9);
            }));
        }

        return new Surroundings(
            neighbours,
            random.Between(1.0, 2.6),
            random.Between(-0.04, 0.04),
            kind == ToothKind.UpperIncisor ? random.Between(4.2, 5.2) : random.Between(5.6, 7.2),
            upper ? random.Between(0.7, 1.2) : random.Between(1.3, 2.2),
            random.Between(7, 12),
            upper ? random.Between(0.75, 0.95) : random.Between(1.0, 1.35),
            upper ? random.Between(0.6, 0.85) : random.Between(0.8, 1.1),
            lesions);
    }

    private Neighbour GrowNeighbour(ToothKind beside, int side, double ownHalfX)
    {
        var grown = new ToothBuilder(beside, unchecked((seed * 31) + side + 7), new ToothOptions { Splits = false, Voids = 0, CurveDegrees = random.Between(3, 15) });
        var size = SizeOf(beside);
        grown.GrowRoots(size.NeckHalfX, size.NeckHalfZ);
        var height = size.CrownHeight * random.Between(0.94, 1.04);
        var (enamel, dentine) = CrownSolids(beside, size, height);
        var x = side * (ownHalfX + size.CrownHalfX + random.Between(0.0, 0.15));
        var y = random.Between(-0.5, 0.5);
        var z = random.Between(-0.6, 0.6);
        var lean = Math.Tan(double.DegreesToRadians(random.Between(-4, 4)));

        // A healthy pulp is narrower than a canal that was prepared and filled.
        var pulp = grown.canals.Select(canal => Scaled(canal.Lumen, 0.75)).ToList();
        var orifices = grown.canals.Select(canal => canal.Lumen.SectionAt(canal.OrificeY)).ToList();
        var halfX = Math.Max(0.6, (orifices.Max(s => s.X) - orifices.Min(s => s.X)) / 2 * 0.9);
        pulp.Add(Column.From(-0.35 * height, 2.2, at =>
        {
            var round = Math.Sqrt(Math.Clamp((at + (0.35 * height)) / 2.0, 0, 1)) * Math.Sqrt(Math.Clamp((2.2 - at) / 1.6, 0, 1));
            return (0, 0, halfX * round, 1.3 * round);
        }));
        var metal = new List<Column>();
        if (beside != ToothKind.UpperIncisor && random.Chance(0.35))
        {
            metal.Add(Column.From(-0.85 * height, -0.5 * height, at =>
            {
                var round = 0.6 + (0.4 * Math.Sqrt(Math.Clamp((-0.5 * height - at) / 0.9, 0, 1)));
                return (0.3, 0, size.CrownHalfX * 0.5 * round, size.CrownHalfZ * 0.4 * round);
            }));
        }

        Column Placed(Column solid)
        {
            return Column.From(solid.FromY + y, solid.ToY + y, at =>
            {
                var section = solid.SectionAt(at - y);
                return (section.X + x + (lean * at), section.Z + z, section.HalfX, section.HalfZ);
            });
        }

        return new Neighbour(
            [.. grown.roots.Select(root => Placed(root.Solid))],
            [.. dentine.Select(Placed)],
            [.. enamel.Select(Placed)],
            [.. pulp.Select(Placed)],
            [.. metal.Select(Placed)]);
    }

    private static Column Scaled(Column solid, double factor) =>
        Column.From(solid.FromY, solid.ToY, y =>
        {
            var section = solid.SectionAt(y);
            return (section.X, section.Z, section.HalfX * factor, section.HalfZ * factor);
        });

    private static double Mix(double from, double to, double share) => from + ((to - from) * share);

    /// <summary>The axis of a root, tabulated over y.</summary>
    private sealed class RootAxis
    {
        private readonly List<(double Y, double X, double Z, double CosineX, double CosineZ)> points = [];

        public RootAxis(double x, double z, double leanX, double leanZ, double curveDegrees, double radius, double hiddenShare, double curveStartsAt, double length)
        {
            const double step = 0.02;
            var (px, py, pz) = (x, 0.0, z);
            for (double s = 0; s <= length + step; s += step)
            {
                var turned = Math.Clamp((s - curveStartsAt) / radius, 0, double.DegreesToRadians(Math.Abs(curveDegrees))) * Math.Sign(curveDegrees);
                var angleX = double.DegreesToRadians(leanX) + turned;
                var angleZ = double.DegreesToRadians(leanZ) + (turned * hiddenShare);
                points.Add((py, px, pz, Math.Cos(angleX), Math.Cos(angleZ)));

                // Length is counted as projected on x and y, so that the curve on the film is the one asked for.
                px += Math.Sin(angleX) * step;
                py += Math.Cos(angleX) * step;
                pz += Math.Tan(angleZ) * Math.Cos(angleX) * step;
            }
        }

        public double EndY => points[^1].Y;

        public (double X, double Z, double CosineX, double CosineZ) At(double y)
        {
            var low = 0;
            var high = points.Count - 1;
            if (y <= 0)
            {
                var (first, second) = (points[0], points[1]);
                var back = y / (second.Y - first.Y);
                return (first.X + (back * (second.X - first.X)), first.Z + (back * (second.Z - first.Z)), first.CosineX, first.CosineZ);
            }

            while (high - low > 1)
            {
                var middle = (low + high) / 2;
                if (points[middle].Y <= y)
                {
                    low = middle;
                }
                else
                {
                    high = middle;
                }
            }

            var (a, b) = (points[low], points[high]);
            var share = Math.Clamp((y - a.Y) / (b.Y - a.Y), 0, 1);
            return (Mix(a.X, b.X, share), Mix(a.Z, b.Z, share), Mix(a.CosineX, b.CosineX, share), Mix(a.CosineZ, b.CosineZ, share));
        }
    }
}
