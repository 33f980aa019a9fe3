using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Register;

/// <summary>Which pixels of the film before are covered by which traced fillings, with a margin.</summary>
internal sealed class FillingMask
{
    private readonly int width;
    private readonly int height;

    /// <summary>One bit per branch.</summary>
    private readonly uint[] covers;

    private FillingMask(int width, int height)
    {
        this.width = width;
        this.height = height;
        covers = new uint[width * height];
    }

    /// <summary>Draws the mask; branches beyond the 32nd share the last bit.</summary>
    public static FillingMask Of(int width, int height, IReadOnlyList<TracedBranch> branches, IReadOnlyList<RodCourse> courses, double marginPixels)
    {
        var mask = new FillingMask(width, height);
        for (var i = 0; i < branches.Count; i++)
        {
            var path = branches[i].Path;
            var last = Math.Max(path.LengthPixels, courses[i].Any ? courses[i].LastLevel : 0);
            for (var level = branches[i].OwnFromPixels; level <= last; level += 1)
            {
                var rod = courses[i].At(level);

                // An unfilled part of the canal is masked narrowly: an instrument may have widened it.
                var radius = (rod.Filled ? rod.RadiusPixels : 3) + marginPixels + (rod.Filled ? courses[i].BlurPixels * 1.5 : 0);
                var centre = rod.Filled ? rod.CentrePixels : 0;
                var along = path.DirectionAt(Math.Min(level, path.LengthPixels), 6);
                var at = path.At(level) + (along * Math.Max(0, level - path.LengthPixels)) + (new PixelPoint(along.Y, -along.X) * centre);
                mask.Cover(at, radius, Bit(i));
            }
        }

        return mask;
    }

    /// <summary>1 where nothing is filled, 0 on fillings and their margin.</summary>
    public GreyImage Open()
    {
        var open = new GreyImage(width, height);
        for (var i = 0; i < covers.Length; i++)
        {
            open.Values[i] = covers[i] == 0 ? 1 : 0;
        }

        return open;
    }

    /// <summary>Whether a place is covered by the filling of another branch.</summary>
    public bool CoveredByOther(PixelPoint place, int branch)
    {
        var x = (int)Math.Round(place.X, MidpointRounding.AwayFromZero);
        var y = (int)Math.Round(place.Y, MidpointRounding.AwayFromZero);
        return x >= 0 && y >= 0 && x < width && y < height && (covers[(y * width) + x] & ~Bit(branch)) != 0;
    }

    private static uint Bit(int branch) => 1u << Math.Min(branch, 31);

    private void Cover(PixelPoint at, double radius, uint bit)
    {
        for (var y = Math.Max(0, (int)(at.Y - radius)); y <= Math.Min(height - 1, (int)(at.Y + radius + 1)); y++)
        {
            for (var x = Math.Max(0, (int)(at.X - radius)); x <= Math.Min(width - 1, (int)(at.X + radius + 1)); x++)
            {
                if (((x - at.X) * (x - at.X)) + ((y - at.Y) * (y - at.Y)) <= radius * radius)
                {
                    covers[(y * width) + x] |= bit;
                }
            }
        }
    }
}
