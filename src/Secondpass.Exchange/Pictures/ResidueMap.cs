using Secondpass.Domain.Films;

namespace Secondpass.Exchange.Pictures;

/// <summary>What each pixel of a comparison's picture is drawn as: patches of residue that are too small to be sure of are told from the others.</summary>
public static class ResidueMap
{
    /// <summary>The classes of a comparison's picture, with <see cref="ResidueClass.BelowLimit"/> for residue in patches smaller than these films can show.</summary>
    /// <remarks>
    /// A patch is what hangs together by sides or corners; it is held against the detection limit of the branch whose path
    /// lies nearest to its middle.
    /// </remarks>
    /// <param name="comparison">What was found.</param>
    /// <returns>One <see cref="ResidueClass"/> a pixel, row by row, in the frame of the film before.</returns>
    public static byte[] Of(Comparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        var picture = comparison.Picture;
        var map = picture.Residue.ToArray();
        var read = comparison.Branches.Where(residue => residue.Refused is null).ToList();
        var visited = new bool[map.Length];
        for (var start = 0; start < map.Length; start++)
        {
            if (map[start] != (byte)ResidueClass.Left || visited[start])
            {
                continue;
            }

            var patch = Patch(map, picture.Width, picture.Height, start, visited);
            if (read.Count > 0 && patch.Count < LimitNear(Middle(patch, picture.Width), read))
            {
                foreach (var place in patch)
                {
                    map[place] = (byte)ResidueClass.BelowLimit;
                }
            }
        }

        return map;
    }

    private static List<int> Patch(byte[] map, int width, int height, int start, bool[] visited)
    {
        var patch = new List<int> { start };
        visited[start] = true;
        for (var next = 0; next < patch.Count; next++)
        {
            var (column, row) = (patch[next] % width, patch[next] / width);
            for (var y = Math.Max(0, row - 1); y <= Math.Min(height - 1, row + 1); y++)
            {
                for (var x = Math.Max(0, column - 1); x <= Math.Min(width - 1, column + 1); x++)
                {
                    var place = (y * width) + x;
                    if (map[place] == (byte)ResidueClass.Left && !visited[place])
                    {
                        visited[place] = true;
                        patch.Add(place);
                    }
                }
            }
        }

        return patch;
    }

    private static PixelPoint Middle(List<int> patch, int width) =>
        new(patch.Average(place => place % width), patch.Average(place => place / width));

    private static double LimitNear(PixelPoint middle, List<BranchResidue> branches) =>
        branches.MinBy(residue => residue.Branch.Path.Points.Min(middle.DistanceTo))!.DetectionLimitSquarePixels;
}
