using Secondpass.Domain.Plans;
using Secondpass.Domain.Quantities;

namespace Secondpass.Removal.Geometry;

/// <summary>The space an instrument cuts in one canal at a given stop, level by level, against the filling and the canal as measured.</summary>
/// <param name="Levels">From the end towards the orifice.</param>
public sealed record SpaceCut(IReadOnlyList<LevelCut> Levels)
{
    // Widths run straight between levels that were measured; what is cut of them doesn't.
    private const double FinestGapMillimetres = 0.25;

    /// <summary>The greatest loss of dentine on a side; 0 when there are no levels.</summary>
    public double GreatestLossPerSideMillimetres => Levels.Count == 0 ? 0 : Levels.Max(level => level.DentinePerSideMillimetres);

    /// <summary>Computes it.</summary>
    /// <param name="shape">The instrument.</param>
    /// <param name="widths">Widths by level; a level without a canal width takes the filling's, one with neither is left out.</param>
    /// <param name="stopFromEndMillimetres">Its stop, short of the canal's end.</param>
    public static SpaceCut Of(InstrumentShape shape, IReadOnlyList<WidthAtLevel> widths, double stopFromEndMillimetres)
    {
        ArgumentNullException.ThrowIfNull(shape);
        ArgumentNullException.ThrowIfNull(widths);
        return new SpaceCut([.. Refined([.. widths.Where(width => width.Filling is not null || width.Canal is not null).OrderBy(width => width.FromEnd)])
            .Select(width => LevelCut.Of(
                width.FromEnd.Value,
                width.Filling?.Value ?? 0,
                width.Canal?.Value ?? width.Filling!.Value.Value,
                shape.SweptDiameterMillimetresAt(width.FromEnd.Value - stopFromEndMillimetres)))]);
    }

    /// <summary>Loss of dentine on a side at a level between those computed, by straight interpolation; null outside them.</summary>
    /// <param name="fromEndMillimetres">Level from the canal's end.</param>
    public double? LossPerSideMillimetresAt(double fromEndMillimetres)
    {
        for (var i = 0; i < Levels.Count; i++)
        {
            if (Levels[i].FromEndMillimetres < fromEndMillimetres)
            {
                continue;
            }

            if (Levels[i].FromEndMillimetres == fromEndMillimetres)
            {
                return Levels[i].DentinePerSideMillimetres;
            }

            if (i == 0)
            {
                return null;
            }

            var (below, above) = (Levels[i - 1], Levels[i]);
            var share = (fromEndMillimetres - below.FromEndMillimetres) / (above.FromEndMillimetres - below.FromEndMillimetres);
            return double.Lerp(below.DentinePerSideMillimetres, above.DentinePerSideMillimetres, share);
        }

        return null;
    }

    /// <summary>Volumes between the lowest and the highest level, sections as circles, by the trapezium rule.</summary>
    public CutVolumes Volumes()
    {
        double filling = 0, fillingCut = 0, canal = 0, widened = 0;
        for (var i = 1; i < Levels.Count; i++)
        {
            var (below, above) = (Levels[i - 1], Levels[i]);
            var slice = Math.PI / 8 * (above.FromEndMillimetres - below.FromEndMillimetres);
            filling += slice * (Square(below.FillingWidthMillimetres) + Square(above.FillingWidthMillimetres));
            fillingCut += slice * (Square(below.FillingCutMillimetres) + Square(above.FillingCutMillimetres));
            canal += slice * (Square(below.OldWidthMillimetres) + Square(above.OldWidthMillimetres));
            widened += slice * (Square(below.NewWidthMillimetres) + Square(above.NewWidthMillimetres));
        }

        return new CutVolumes(filling, fillingCut, canal, widened);
    }

    private static IEnumerable<WidthAtLevel> Refined(List<WidthAtLevel> widths)
    {
        for (var i = 0; i < widths.Count; i++)
        {
            yield return widths[i];
            if (i + 1 == widths.Count || widths[i].Filling is null != (widths[i + 1].Filling is null) || widths[i].Canal is null != (widths[i + 1].Canal is null))
            {
                continue;
            }

            var (below, above) = (widths[i], widths[i + 1]);
            var pieces = (int)Math.Ceiling((above.FromEnd.Value - below.FromEnd.Value) / FinestGapMillimetres);
            for (var piece = 1; piece < pieces; piece++)
            {
                var share = (double)piece / pieces;
                yield return new WidthAtLevel(Between(below.FromEnd, above.FromEnd)!.Value, Between(below.Filling, above.Filling), Between(below.Canal, above.Canal));

                Millimetres? Between(Millimetres? from, Millimetres? to) =>
                    from is { } first && to is { } second ? new Millimetres(double.Lerp(first.Value, second.Value, share)) : null;
            }
        }
    }

    private static double Square(double width) => width * width;
}

/// <summary>Volumes before and after a cut.</summary>
/// <param name="FillingCubicMillimetres">Filling before.</param>
/// <param name="FillingCutCubicMillimetres">Filling cut.</param>
/// <param name="CanalCubicMillimetres">Canal before.</param>
/// <param name="WidenedCubicMillimetres">Canal after.</param>
public readonly record struct CutVolumes(double FillingCubicMillimetres, double FillingCutCubicMillimetres, double CanalCubicMillimetres, double WidenedCubicMillimetres)
{
    /// <summary>Dentine cut.</summary>
    public double DentineCutCubicMillimetres => WidenedCubicMillimetres - CanalCubicMillimetres;

    /// <summary>Filling left.</summary>
    public double FillingLeftCubicMillimetres => FillingCubicMillimetres - FillingCutCubicMillimetres;
}
