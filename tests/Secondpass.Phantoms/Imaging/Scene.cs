using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;

namespace Secondpass.Phantoms.Imaging;

/// <summary>All solids before the film in order of precedence: where two overlap, the first holds.</summary>
internal sealed class Scene
{
    private const int BoneLayers = 5;
    private readonly FilmGeometry geometry;
    private readonly ProjectionSetting setting;
    private readonly Surroundings around;
    private readonly List<Layer> layers = [];
    private readonly bool fillingOnly;
    private readonly int seed;
    private readonly float[] layerShiftX = new float[BoneLayers];
    private readonly float[] layerShiftY = new float[BoneLayers];

    public Scene(PhantomTooth tooth, FilmGeometry geometry, PhantomContents contents, bool fillingOnly = false)
    {
        this.geometry = geometry;
        this.fillingOnly = fillingOnly;
        setting = new ProjectionSetting(geometry);
        around = tooth.Surroundings;
        seed = tooth.Seed;
        var random = new PhantomRandom(seed, 55);
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

    private enum Role
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
            var left = Math.Clamp(layer.Left, 0, geometry.Width - 1);
            var top = Math.Clamp(layer.Top, 0, geometry.Height - 1);
            var right = Math.Clamp(layer.Right, 0, geometry.Width - 1);
            var bottom = Math.Clamp(layer.Bottom, 0, geometry.Height - 1);
            maps[layer.Canal!.Name] = new ThicknessMap(geometry.Width, geometry.Height, left, top, right - left + 1, bottom - top + 1);
        }

        return maps;
    }

    public void TraceRow(int row, RowWork work, Dictionary<string, ThicknessMap> maps)
    {
        work.Clear();
        var active = 0;
        for (var i = 0; i < layers.Count; i++)
        {
            if (row >= layers[i].Top && row <= layers[i].Bottom)
            {
                work.Active[active++] = i;
            }
        }

        Span<Chord> pieces = stackalloc Chord[64];
        for (var column = 0; column < geometry.Width; column++)
        {
            var ray = setting.RayAt(column, row);
            var slant = ray.Slant;
            var coverage = new Coverage(pieces);
            var bone = fillingOnly ? default : BoneAt(ray);
            for (var k = 0; k < active; k++)
            {
                var layer = layers[work.Active[k]];
                if (column < layer.Left || column > layer.Right || !layer.Solid.Meets(ray, out var chord, out var passage))
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
    }

    private static void PassFilling(
        Layer layer, int column, int row, Chord chord, in Passage passage, float slant, ref Coverage coverage, RowWork work, Dictionary<string, ThicknessMap> maps)
    {
        var shape = layer.Shape!;
        var canal = layer.Canal!;
        var whole = shape.Patches.Count == 0 && canal.Voids.Count == 0;
        float share;
        if (whole)
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
                var angle = Math.Atan2(q, p);
                var radius = Math.Min(1, Math.Sqrt((p * p) + (q * q)));
                if (canal.FillingHolds(y, angle, radius) && shape.Holds(y, angle, radius))
                {
                    held++;
                }
            }

            share = free == 0 ? 0 : held / (float)free;
        }

        var taken = coverage.Take(chord) * slant;
        var filling = taken * share;
        work.Add(Substance.Filling, column, filling);
        work.Add(layer.Substance, column, taken - filling);
        var map = maps[canal.Name];
        map.Values[((row - map.Top) * map.Width) + column - map.Left] = filling;
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

                var share = seen == 0 ? BoneTexture.Mean : sum / seen;
                var sponge = coverage.Take(new Chord(bone.From + plate, bone.To - plate)) * slant;
                work.Add(Substance.Bone, column, sponge * share);
                work.Add(Substance.Tissue, column, sponge * (1 - share));
            }
        }

        // Gum covers bone and necks; cheek or lip lies over everything.
        var under = ray.Y0 - CrestAt(ray.X0) + 2.5f;
        if (under > 0)
        {
            var half = ((float)around.BoneHalfDepth + 1.5f) * MathF.Sqrt(1 - MathF.Exp(-under / 4));
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

    private float BoneHalf(float below) =>
        below <= 0 ? 0 : (float)around.BoneHalfDepth * MathF.Sqrt(1 - MathF.Exp(-below / 4.5f));

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

        foreach (var canal in tooth.FilledCanals)
        {
            Add(new Layer(canal.Filling!, Role.Filling, medium, canal, contents.Residue.Of(canal.Name)));
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
            var closed = contents.Medium is CanalMedium.Dressing or CanalMedium.RadiopaqueDressing;
            Add(tooth.Crown.Access, closed ? Substance.Composite : medium == Substance.Tissue ? Substance.Air : medium);
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
        // Two jaws at the neck and the bow above, as seen along the ray.
        var half = tooth.Roots[0].Solid.SectionAt(0).HalfX;
        foreach (var side in new[] { -1.0, 1.0 })
        {
            yield return Column.From(-2.6, -0.6, y => (0, side * 5.5, half * (0.75 + (0.12 * y)), 0.35));
            yield return Column.From(-6.5, -1.2, y => (side * (half + 0.9 + (0.25 * (-1.2 - y))), side * 1.5, 0.55, 3.2));
        }
    }

    private void Add(Column solid, Substance substance) => Add(new Layer(solid, Role.Solid, substance, null, null));

    private void Add(Layer layer)
    {
        var (left, top, right, bottom) = (double.MaxValue, double.MaxValue, double.MinValue, double.MinValue);
        foreach (var x in new[] { layer.Solid.MinX, layer.Solid.MaxX })
        {
            foreach (var y in new[] { layer.Solid.FromY, layer.Solid.ToY })
            {
                foreach (var z in new[] { layer.Solid.MinZ, layer.Solid.MaxZ })
                {
                    var place = setting.Project(x, y, z);
                    (left, right) = (Math.Min(left, place.X), Math.Max(right, place.X));
                    (top, bottom) = (Math.Min(top, place.Y), Math.Max(bottom, place.Y));
                }
            }
        }

        layer.Left = (int)Math.Floor(left);
        layer.Right = (int)Math.Ceiling(right);
        layer.Top = (int)Math.Floor(top);
        layer.Bottom = (int)Math.Ceiling(bottom);
        if (layer.Role == Role.Filling || (layer.Right >= 0 && layer.Bottom >= 0 && layer.Left < geometry.Width && layer.Top < geometry.Height))
        {
            layers.Add(layer);
        }
    }

    private sealed class Layer(Column solid, Role role, Substance substance, PhantomCanal? canal, BranchResidueShape? shape)
    {
        public Column Solid { get; } = solid;

        public Role Role { get; } = role;

        public Substance Substance { get; } = substance;

        public PhantomCanal? Canal { get; } = canal;

        public BranchResidueShape? Shape { get; } = shape;

        public int Left { get; set; }

        public int Right { get; set; }

        public int Top { get; set; }

        public int Bottom { get; set; }
    }
}
