using Secondpass.Phantoms.Anatomy;

namespace Secondpass.Phantoms.Contents;

/// <summary>A piece of old filling that was moved to where none was before: pushed beyond the end, or carried along the canal.</summary>
/// <remarks>Drawn out at both ends, round across; inside the canal no wider than the canal. Beyond the end the canal runs straight on.</remarks>
/// <param name="Branch">The branch it came from.</param>
/// <param name="CentreShortOfEnd">Its middle, in mm along y short of the canal's end; negative beyond it.</param>
/// <param name="LengthMillimetres">Its length along y.</param>
/// <param name="WidthMillimetres">Its greatest width.</param>
public sealed record MovedPlug(string Branch, double CentreShortOfEnd, double LengthMillimetres, double WidthMillimetres)
{
    /// <summary>Its area seen from the side where nothing narrows it, in mm²: an ellipse.</summary>
    public double AreaSquareMillimetres => Math.PI / 4 * LengthMillimetres * WidthMillimetres;

    /// <summary>The place of its middle in the tooth's frame, in mm.</summary>
    public (double X, double Y, double Z) Middle(PhantomTooth tooth)
    {
        ArgumentNullException.ThrowIfNull(tooth);
        var y = tooth.Canal(Branch).EndY - CentreShortOfEnd;
        var (x, z) = AxisAt(tooth, y);
        return (x, y, z);
    }

    /// <summary>The piece as a solid.</summary>
    internal Column Solid(PhantomTooth tooth)
    {
        var canal = tooth.Canal(Branch);
        var middle = canal.EndY - CentreShortOfEnd;
        var half = LengthMillimetres / 2;
        return Column.From(middle - half, middle + half, y =>
        {
            var (x, z) = AxisAt(tooth, y);
            var wide = WidthMillimetres / 2 * Math.Sqrt(Math.Clamp(1 - Math.Pow((y - middle) / half, 2), 0, 1));
            var lumen = canal.Lumen.SectionAt(y);
            return y > canal.EndY ? (x, z, wide, wide) : (x, z, Math.Min(wide, lumen.HalfX), Math.Min(wide, lumen.HalfZ));
        });
    }

    private (double X, double Z) AxisAt(PhantomTooth tooth, double y)
    {
        const double Along = 1;
        var canal = tooth.Canal(Branch);
        var at = canal.Lumen.SectionAt(Math.Min(y, canal.EndY));
        if (y <= canal.EndY)
        {
            return (at.X, at.Z);
        }

        var above = canal.Lumen.SectionAt(canal.EndY - Along);
        return (at.X + ((at.X - above.X) / Along * (y - canal.EndY)), at.Z + ((at.Z - above.Z) / Along * (y - canal.EndY)));
    }
}
