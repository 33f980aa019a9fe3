using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;

namespace Secondpass.Phantoms.Imaging;

/// <summary>All solids before the film in order of precedence: where two overlap, the first holds.</summary>
internal sealed class Scene
{
    private const int BoneLayers = 4;
    private const int HalvesPerMillimetre = 20;
    private readonly FilmGeometry geometry;
    private readonly ProjectionSetting setting;
    private readonly Surroundings around;
    private readonly List<Layer> layers = [];
    private readonly bool fillingOnly;
    private readonly float[] boneHalves;
    private readonly float[] gumHalves;
    private readonly float[] layerShiftX = new float[BoneLayers];
    private readonly float[] layerShiftY = new float[BoneLayers];

    public Scene(PhantomTooth tooth, FilmGeometry geometry, PhantomContents contents, bool fillingOnly = false)
    {
        this.geometry = geometry;
        this.fillingOnly = fillingOnly;
        setting = new ProjectionSetting(geometry);
        around = tooth.Surroundings;
        boneHalves = Halves(around.BoneHalfDepth, 1.6, 5);
        gumHalves = Halves(around.BoneHalfDepth + 1.5, 2.2, 5);
        var random = new PhantomRandom(tooth.Seed, 55);
        for (var i = 0; i < BoneLayers; i++)
        {
            layerShiftX[i] = (float)random.Between(0, 36);
            layerShiftY[i] = (float)random.Between(0, 36);
        }

        AddCanals(tooth, contents);
        if (!fillingOnly)
        {
            AddCrown(tooth, contents);
            AddTeeth(tooth, contents);
        }
    }

    internal enum Role
    {
        /// <summary>One substance.</summary>
        Solid,

        /// <summary>The old filling of a branch.</summary>
        Filling,

        /// <summary>The bone plate round a root, where there is bone.</summary>
        Lamina,
    }

    public Dictionary<string, ThicknessMap> NewMaps()
    {
        var maps = new Dictionary<string, ThicknessMap>();
        foreach (var layer in layers.Where(layer => layer.Role == Role.Filling))
        {
            maps[layer.Canal!.Name] = layer.Bottom < layer.Top
                ? new ThicknessMap(geometry.Width, geometry.Height, 0, 0, 0, 0)
                : new ThicknessMap(geometry.Width, geometry.Height, layer.Left, layer.Top, layer.Right - layer.Left + 1, layer.Bottom - layer.Top + 1);
        }

        return maps;
    }

    /// <summary>Follows the rays of one row through all solids.</summary>
    public void TraceRow(int row, RowWork work, Dictionary<string, ThicknessMap> maps)
    {
        work.Clear();
        var active = 0;
        var cuts = 0;
        work.Cuts[cuts++] = 0;
        for (var i = 0; i < layers.Count; i++)
        {
            var (left, right) = layers[i].SpanIn(row);
            if (right >= left)
            {
                work.Active[active++] = i;
                work.Cuts[cuts++] = left;
                work.Cuts[cuts++] = right + 1;
            }
        }

        if (fillingOnly && active == 0)
        {
            return;
        }

        // Between two cuts the same solids are in question.
        work.Cuts[cuts++] = geometry.Width;
        Array.Sort(work.Cuts, 0, cuts);
        Span<Chord> pieces = stackalloc Chord[64];
        for (var cut = 1; cut < cuts; cut++)
        {
            var (from, to) = (work.Cuts[cut - 1], work.Cuts[cut]);
            var near = 0;
            for (var k = 0; k < active && to > from; k++)
            {
                var (left, right) = layers[work.Active[k]].SpanIn(row);
                if (left <= from && right >= to - 1)
                {
                    work.Near[near++] = layers[work.Active[k]];
                }
            }

            if (fillingOnly && near == 0)
            {
                continue;
            }

            for (var column = from; column < to; column++)
            {
                TracePixel(column, row, work.Near.AsSpan(0, near), pieces, work, maps);
            }
        }
    }

    private void TracePixel(int column, int row, ReadOnlySpan<Layer> near, Span<Chord> pieces, RowWork work, Dictionary<string, ThicknessMap> maps)
    {
        var ray = setting.RayAt(column, row);
        var slant = ray.Slant;
        var coverage = new Coverage(pieces);
        var bone = fillingOnly ? default : BoneAt(ray);
        foreach (var layer in near)
        {
            if (!layer.Solid.Meets(ray, out var chord, out var passage))
            {
                continue;
            }

            switch (layer.Role)
            {
                case Role.Solid:
                    work.Add(layer.Substance, column, coverage.Take(chord) * slant);
                    break;
                case Role.Lamina:
                    work.Add(layer.Substance, column, coverage.Take(new Chord(MathF.Max(chord.From, bone.From), MathF.Min(chord.To, bone.To))) * slant);
                    break;
                default:
                    PassFilling(layer, column, row, chord, passage, slant, ref coverage, work, maps);
                    break;
            }
        }

        if (!fillingOnly)
        {
            PassJaw(ray, bone, column, slant, ref coverage, work);
        }
    }

    private static void PassFilling(
        Layer layer, int column, int row, Chord chord, in Passage passage, float slant, ref Coverage coverage, RowWork work, Dictionary<string, ThicknessMap> maps)
    {
        var shape = layer.Shape!;
        var canal = layer.Canal!;

        // Only the patches at the ray's level matter.
        var sway = Math.Abs(passage.Ky) * chord.Length;
        var gaps = work.Gaps.AsSpan(0, Near(canal.Voids, passage.AxisY, sway, work.Gaps));
        var patches = work.Patches.AsSpan(0, Near(shape.Patches, passage.AxisY, sway, work.Patches));
        float share;
        if (gaps.Length + patches.Length == 0)
        {
            share = shape.Inverted ? 1 : 0;
        }
        else
        {
            // Midpoints at most 0.0125 mm apart; the ends of patches are found no finer than that.
            var samples = Math.Clamp((int)(chord.Length * 80) + 8, 8, 160);
            var step = chord.Length / samples;
            var free = 0;
            var held = 0;
            for (var i = 0; i < samples; i++)
            {
                var z = chord.From + ((i + 0.5f) * step);
                if (coverage.Holds(z))
                {
                    continue;
                }

                free++;
                var (y, p, q) = passage.At(z);
                var angle = MathF.Atan2(q, p);
                var radius = MathF.Min(1, MathF.Sqrt((p * p) + (q * q)));
                if (!CanalPatch.AnyHolds(gaps, y, angle, radius) && CanalPatch.AnyHolds(patches, y, angle, radius) != shape.Inverted)
                {
                    held++;
                }
            }

            share = free == 0 ? 0 : held / (float)free;
        }

        var taken = coverage.Take(chord) * slant;
        var filling = taken * share;
        work.Add(Substance.Filling, column, filling);

        // What was pressed beyond the end and taken out leaves tissue, not an empty canal.
        work.Add(passage.AxisY > canal.EndY ? Substance.Tissue : layer.Substance, column, taken - filling);
        var map = maps[canal.Name];
        map.Values[((row - map.Top) * map.Width) + column - map.Left] = filling;
    }

    private static int Near(IReadOnlyList<CanalPatch> all, float y, float sway, CanalPatch[] near)
    {
        var count = 0;
        for (var i = 0; i < all.Count; i++)
        {
            if (Math.Abs(y - all[i].CentreY) < (CanalPatch.Reach * all[i].HalfHeight) + sway)
            {
                near[count++] = all[i];
            }
        }

        return count;
    }

    private void PassJaw(in Ray ray, Chord bone, int column, float slant, ref Coverage coverage, RowWork work)
    {
        if (bone.Length > 0)
        {
            var depth = ray.Y0 - CrestAt(ray.X0);
            var plate = MathF.Min(bone.Length / 2, ((float)around.CortexDepth * MathF.Min(1, depth / 3)) + 0.25f);
            var cortex = coverage.Take(new Chord(bone.From, bone.From + plate)) + coverage.Take(new Chord(bone.To - plate, bone.To));
            work.Add(Substance.Bone, column, cortex * slant);
            if (bone.Length > 2 * plate)
            {
                float sum = 0;
                var seen = 0;
                for (var i = 0; i < BoneLayers; i++)
                {
                    var z = bone.From + plate + ((bone.Length - (2 * plate)) * (i + 0.5f) / BoneLayers);
                    if (coverage.Holds(z))
                    {
                        continue;
                    }

                    var x = ray.X0 + (ray.Kx * z);
                    var y = ray.Y0 + (ray.Ky * z);
                    var (u, v) = (i & 1) == 0 ? (x, y) : (y, x);
                    var grain = (float)around.Grain;
                    sum += BoneTexture.At((u / grain) + layerShiftX[i], (v / grain) + layerShiftY[i]);
                    seen++;
                }

                var share = (seen == 0 ? BoneTexture.Mean : sum / seen) * (float)around.Density;
                var sponge = coverage.Take(new Chord(bone.From + plate, bone.To - plate)) * slant;
                work.Add(Substance.Bone, column, sponge * share);
                work.Add(Substance.Tissue, column, sponge * (1 - share));
            }
        }

        // Gum covers bone and necks; cheek or lip lies over everything.
        var under = ray.Y0 - CrestAt(ray.X0) + 2.5f;
        if (under > 0)
        {
            var half = HalfFrom(gumHalves, under);
            work.Add(Substance.Tissue, column, coverage.Take(new Chord(-half, half)) * slant);
        }

        work.Add(Substance.Tissue, column, (float)around.CheekDepth * slant);
    }

    private float CrestAt(float x) => (float)(around.CrestY + (around.CrestSlope * x));

    /// <summary>Where a ray passes the jaw's bone.</summary>
    private Chord BoneAt(in Ray ray)
    {
        var crest = CrestAt(ray.X0);
        var half = BoneHalf(ray.Y0 - crest);
        return half <= 0 ? default : new Chord(-BoneHalf(ray.Y0 - (ray.Ky * half) - crest), BoneHalf(ray.Y0 + (ray.Ky * half) - crest));
    }

    private float BoneHalf(float below) => HalfFrom(boneHalves, below);

    private static float HalfFrom(float[] halves, float below)
    {
        var at = below * HalvesPerMillimetre;
        if (at <= 0)
        {
            return 0;
        }

        var i = Math.Min((int)at, halves.Length - 2);
        return halves[i] + (MathF.Min(1, at - i) * (halves[i + 1] - halves[i]));
    }

    /// <summary>Half depths below a rounded edge that goes over into a slow rise, tabulated over 40 mm.</summary>
    private static float[] Halves(double greatest, double near, double far) =>
        [.. Enumerable.Range(0, (40 * HalvesPerMillimetre) + 1).Select(i => (double)i / HalvesPerMillimetre).Select(below =>
            (float)(greatest * ((0.45 * (1 - Math.Exp(-Math.Pow(below / near, 2)))) + (0.55 * (1 - Math.Exp(-below / far))))))];

    private void AddCanals(PhantomTooth tooth, PhantomContents contents)
    {
        var medium = contents.Medium switch
        {
            CanalMedium.Air => Substance.Air,
            CanalMedium.Irrigant => Substance.Water,
            CanalMedium.Dressing => Substance.PlainDressing,
            CanalMedium.RadiopaqueDressing => Substance.RadiopaqueDressing,
            _ => Substance.Tissue,
        };
        foreach (var instrument in contents.Instruments)
        {
            Add(InstrumentSolid(tooth, instrument), instrument.NickelTitanium ? Substance.NickelTitanium : Substance.Steel);
        }

        if (contents.Clamp)
        {
            foreach (var part in ClampSolids(tooth))
            {
                Add(part, Substance.Steel);
            }
        }

        if (!fillingOnly)
        {
            foreach (var plug in contents.Moved)
            {
                Add(plug.Solid(tooth), Substance.Filling);
            }
        }

        foreach (var canal in tooth.FilledCanals)
        {
            var instead = contents.Refilled.Contains(canal.Name) ? Substance.Filling : medium;
            Add(new Layer(canal.Filling!, Role.Filling, instead, canal, contents.Residue.Of(canal.Name)));
        }

        if (fillingOnly)
        {
            return;
        }

        foreach (var canal in tooth.Canals)
        {
            var inside = !canal.IsFilled ? Substance.Tissue : contents.Refilled.Contains(canal.Name) ? Substance.Filling : medium;
            Add(canal.IsFilled && contents.EnlargementMillimetres > 0 ? canal.Lumen.Grown(contents.EnlargementMillimetres, carryEndOn: false) : canal.Lumen, inside);
        }

        if (contents.AccessOpen)
        {
            if (contents.Medium is CanalMedium.Dressing or CanalMedium.RadiopaqueDressing)
            {
                Add(tooth.Crown.Closure, Substance.Composite);
            }

            Add(tooth.Crown.Access, Substance.Air);
        }
        else
        {
            if (tooth.Crown.Restoration == CrownRestoration.Amalgam)
            {
                Add(tooth.Crown.Plug, Substance.Amalgam);
            }

            Add(tooth.Crown.Chamber, Substance.Composite);
            Add(tooth.Crown.Plug, Substance.Composite);
        }
    }

    private void AddCrown(PhantomTooth tooth, PhantomContents contents)
    {
        var crown = tooth.Crown;
        if (contents.RestorationRemoved && crown.Restoration == CrownRestoration.Amalgam)
        {
            Add(crown.Plug, Substance.Air);
        }
        else if (contents.AccessOpen && crown.Restoration == CrownRestoration.Amalgam)
        {
            Add(crown.Plug, Substance.Amalgam);
        }

        foreach (var metal in around.Neighbours.SelectMany(neighbour => neighbour.Metal))
        {
            Add(metal, Substance.Amalgam);
        }

        foreach (var pulp in around.Neighbours.SelectMany(neighbour => neighbour.Pulp))
        {
            Add(pulp, Substance.Tissue);
        }
    }

    private void AddTeeth(PhantomTooth tooth, PhantomContents contents)
    {
        var crown = tooth.Crown;
        foreach (var root in tooth.Roots)
        {
            Add(root.Solid, Substance.Dentine);
        }

        foreach (var core in crown.Dentine)
        {
            Add(core, Substance.Dentine);
        }

        foreach (var neighbour in around.Neighbours)
        {
            foreach (var solid in neighbour.Roots.Concat(neighbour.Dentine))
            {
                Add(solid, Substance.Dentine);
            }

            foreach (var solid in neighbour.Enamel)
            {
                Add(solid, Substance.Enamel);
            }
        }

        // Under a metal crown the enamel was cut away and built up.
        foreach (var solid in crown.Enamel)
        {
            Add(solid, crown.Restoration == CrownRestoration.MetalCrown ? Substance.Composite : Substance.Enamel);
        }

        if (!contents.RestorationRemoved)
        {
            foreach (var solid in crown.Shell)
            {
                Add(solid, Substance.CrownMetal);
            }
        }

        foreach (var lesion in around.Lesions)
        {
            Add(lesion, Substance.Tissue);
        }

        var allRoots = tooth.Roots.Select(root => root.Solid).Concat(around.Neighbours.SelectMany(neighbour => neighbour.Roots)).ToList();
        foreach (var root in allRoots)
        {
            Add(root.Grown(0.22, carryEndOn: true), Substance.Tissue);
        }

        foreach (var root in allRoots)
        {
            Add(new Layer(root.Grown(0.52, carryEndOn: true), Role.Lamina, Substance.Bone, null, null));
        }
    }

    private static Column InstrumentSolid(PhantomTooth tooth, StandingInstrument instrument)
    {
        var canal = tooth.Canal(instrument.Branch);
        var line = tooth.CentreLine(instrument.Branch);

        // Outside the tooth it goes on straight from the orifice towards the opening.
        var (first, later) = (line[0], line[Math.Min(line.Count - 1, 40)]);
        var fromY = tooth.Crown.TopY - 7;
        return Column.From(fromY, instrument.ToY, y =>
        {
            var index = (int)Math.Round((y - first.Y) / Column.Step, MidpointRounding.AwayFromZero);
            var (x, z) = index >= 0
                ? (line[Math.Min(index, line.Count - 1)].X, line[Math.Min(index, line.Count - 1)].Z)
                : (first.X + ((first.X - later.X) / (first.Y - later.Y) * (y - first.Y)), first.Z + ((first.Z - later.Z) / (first.Y - later.Y) * (y - first.Y)));
            var blade = Math.Min(16, instrument.ToY - y);
            var half = (instrument.TipMillimetres + (blade * instrument.TaperPercent / 100)) / 2;
            if (y < tooth.Crown.TopY - 4)
            {
                half = 0.5;
            }

            return (x, z, half, half);
        });
    }

    private static IEnumerable<Column> ClampSolids(PhantomTooth tooth)
    {
        // Two jaws hold the neck; the bow stands up behind the crown, towards +x.
        var half = tooth.Roots[0].Solid.SectionAt(0.5).HalfX;
        foreach (var side in new[] { -1.0, 1.0 })
        {
            yield return Column.From(-2.2, -0.7, y =>
            {
                var thick = Math.Sqrt(Math.Clamp(1 - Math.Pow((y + 1.45) / 0.75, 2), 0, 1));
                return (0, side * 5.2, half * (0.55 + (0.35 * thick)), 0.5 * thick);
            });
            yield return Column.From(-9.5, -1.2, y =>
            {
                // Each leg of the bow leans back and meets the other at the top.
                var up = (-1.2 - y) / 8.3;
                return (half + 0.4 + (3.2 * Math.Sin(up * Math.PI * 0.62)), side * 4.6 * Math.Sqrt(Math.Max(0, 1 - (up * up))), 0.55, 0.45);
            });
        }
    }

    private void Add(Column solid, Substance substance) => Add(new Layer(solid, Role.Solid, substance, null, null));

    private void Add(Layer layer)
    {
        layer.Cast(setting, geometry.Width, geometry.Height);
        if (layer.Role == Role.Filling || layer.Bottom >= layer.Top)
        {
            layers.Add(layer);
        }
    }

    /// <summary>A solid with its substance and where its shadow falls.</summary>
    internal sealed class Layer(Column solid, Role role, Substance substance, PhantomCanal? canal, BranchResidueShape? shape)
    {
        private int[] lefts = [];
        private int[] rights = [];

        public Column Solid { get; } = solid;

        public Role Role { get; } = role;

        public Substance Substance { get; } = substance;

        public PhantomCanal? Canal { get; } = canal;

        public BranchResidueShape? Shape { get; } = shape;

        /// <summary>First row of the shadow on the film; greater than <see cref="Bottom"/> when none falls on it.</summary>
        public int Top { get; private set; }

        public int Bottom { get; private set; } = -1;

        public int Left { get; private set; } = int.MaxValue;

        public int Right { get; private set; } = -1;

        /// <summary>Columns of one row on which the shadow may fall; none when the second is less.</summary>
        public (int Left, int Right) SpanIn(int row) =>
            row < Top || row > Bottom ? (0, -1) : (lefts[row - Top], rights[row - Top]);

        /// <summary>Finds the shadow row by row, never too small: boxes round every two sections.</summary>
        public void Cast(in ProjectionSetting setting, int width, int height)
        {
            var (first, last) = (new int[height], new int[height]);
            Array.Fill(first, int.MaxValue);
            Array.Fill(last, -1);
            var before = BoxOf(setting, 0);
            for (var i = 1; i < Solid.Count; i++)
            {
                var box = BoxOf(setting, i);
                var left = Math.Max(0, (int)Math.Floor(Math.Min(box.Left, before.Left)) - 1);
                var right = Math.Min(width - 1, (int)Math.Ceiling(Math.Max(box.Right, before.Right)) + 1);
                var top = Math.Max(0, (int)Math.Floor(Math.Min(box.Top, before.Top)) - 1);
                var bottom = Math.Min(height - 1, (int)Math.Ceiling(Math.Max(box.Bottom, before.Bottom)) + 1);
                for (var row = top; row <= bottom && right >= left; row++)
                {
                    first[row] = Math.Min(first[row], left);
                    last[row] = Math.Max(last[row], right);
                }

                before = box;
            }

            Top = Array.FindIndex(last, right => right >= 0);
            Bottom = Array.FindLastIndex(last, right => right >= 0);
            if (Top < 0)
            {
                (Top, Bottom) = (0, -1);
                return;
            }

            (lefts, rights) = (first[Top..(Bottom + 1)], last[Top..(Bottom + 1)]);
            (Left, Right) = (lefts.Min(), rights.Max());
        }

        private (double Left, double Top, double Right, double Bottom) BoxOf(in ProjectionSetting setting, int index)
        {
            var y = Solid.FromY + (index * Column.Step);
            var (x, z, halfX, halfZ) = Solid.SectionAt(y);
            if (Solid.TurnDegrees != 0)
            {
                halfX = halfZ = Math.Max(halfX, halfZ);
            }

            var a = setting.Project(x - halfX, y, z - halfZ);
            var b = setting.Project(x + halfX, y, z - halfZ);
            var c = setting.Project(x - halfX, y, z + halfZ);
            var d = setting.Project(x + halfX, y, z + halfZ);
            return (
                Math.Min(Math.Min(a.X, b.X), Math.Min(c.X, d.X)),
                Math.Min(Math.Min(a.Y, b.Y), Math.Min(c.Y, d.Y)),
                Math.Max(Math.Max(a.X, b.X), Math.Max(c.X, d.X)),
                Math.Max(Math.Max(a.Y, b.Y), Math.Max(c.Y, d.Y)));
        }
    }
}
