using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;

namespace Secondpass.Radiographs.Compare;

/// <summary>Which pixels of a film are covered by traced fillings.</summary>
internal static class FillingMask
{
    /// <summary>1 where nothing is filled, 0 on fillings and a margin around them.</summary>
    public static GreyImage Open(int width, int height, IReadOnlyList<TracedBranch> branches, IReadOnlyList<RodCourse> courses, double marginPixels)
    {
        var open = new GreyImage(width, height);
        Array.Fill(open.Values, 1f);
        for (var i = 0; i < branches.Count; i++)
        {
            var path = branches[i].Path;
            var last = Math.Max(path.LengthPixels, courses[i].Any ? courses[i].LastLevel : 0);
            for (var level = 0.0; level <= last; level += 1)
            {
                var rod = courses[i].At(level);

                // An unfilled part of the canal is masked narrowly: an instrument may have widened it.
                var radius = (rod.Filled ? rod.RadiusPixels : 3) + marginPixels + (rod.Filled ? courses[i].BlurPixels * 1.5 : 0);
                var centre = rod.Filled ? rod.CentrePixels : 0;
                var along = path.DirectionAt(Math.Min(level, path.LengthPixels), 6);
                var at = path.At(level) + (along * Math.Max(0, level - path.LengthPixels)) + (new PixelPoint(along.Y, -along.X) * centre);
                Clear(open, at, radius);
            }
        }

        return open;
    }

    private static void Clear(GreyImage open, PixelPoint at, double radius)
    {
        for (var y = Math.Max(0, (int)(at.Y - radius)); y <= Math.Min(open.Height - 1, (int)(at.Y + radius + 1)); y++)
        {
            for (var x = Math.Max(0, (int)(at.X - radius)); x <= Math.Min(open.Width - 1, (int)(at.X + radius + 1)); x++)
            {
                if (((x - at.X) * (x - at.X)) + ((y - at.Y) * (y - at.Y)) <= radius * radius)
                {
                    open[x, y] = 0;
                }
            }
        }
    }
}
