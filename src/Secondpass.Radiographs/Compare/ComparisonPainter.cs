using Secondpass.Domain.Films;
using Secondpass.Radiographs.Pixels;
using Secondpass.Radiographs.Register;

namespace Secondpass.Radiographs.Compare;

/// <summary>Draws the film after in the frame of the film before, and where residue was seen.</summary>
internal static class ComparisonPainter
{
    /// <summary>How far from a canal its own correction still moves the picture, in pixels.</summary>
    private const double CorrectionReachPixels = 60;

    public static ComparisonPicture Paint(
        ComparisonRequest request,
        GreyImage before,
        GreyImage after,
        PlaneMap map,
        TracedBranch[] branches,
        LocalShifts[] shifts,
        CanalStrips[] strips,
        ResidueReader[] readers,
        BranchResidue[] results,
        GreyMatch grey,
        bool beforeInverted,
        EmptyCanal[] empty)
    {
        var corrections = Corrections(before, branches, shifts);
        var aligned = new ushort[before.Width * before.Height];
        var greatest = request.Before.GreatestValue;
        Parallel.For(0, before.Height, y =>
        {
            for (var x = 0; x < before.Width; x++)
            {
                var shift = corrections.At(x, y);
                var on = map.Of(new PixelPoint(x, y) + shift);
                if (on.X < 0 || on.Y < 0 || on.X > after.Width - 1 || on.Y > after.Height - 1)
                {
                    continue;
                }

                var value = Math.Clamp(grey.Of(after.At(on.X, on.Y)), 0, greatest);
                aligned[(y * before.Width) + x] = (ushort)(beforeInverted ? greatest - value : value);
            }
        });
        return new ComparisonPicture(before.Width, before.Height, aligned, Classes(before, strips, readers, results, empty));
    }

    private static byte[] Classes(GreyImage before, CanalStrips[] strips, ResidueReader[] readers, BranchResidue[] results, EmptyCanal[] empty)
    {
        var classes = new byte[before.Width * before.Height];
        for (var i = 0; i < strips.Length; i++)
        {
            for (var row = 0; row < strips[i].Levels; row++)
            {
                for (var column = 0; column < strips[i].Columns; column++)
                {
                    if (readers[i].WasFilling(row, column))
                    {
                        Mark(classes, before, strips[i], row, column, Class(strips[i], readers[i], results[i], row, column, empty[i]));
                    }
                }
            }
        }

        return classes;
    }

    private static ResidueClass Class(CanalStrips strip, ResidueReader reader, BranchResidue result, int row, int column, EmptyCanal empty)
    {
        if (result.Refused is not null || !strip.Seen[row])
        {
            return ResidueClass.Unclear;
        }

        var left = reader.ThicknessLeft(row, column, empty);
        return left >= reader.LeastThicknessPixels ? ResidueClass.Left : ResidueClass.Cleared;
    }

    /// <summary>Marks the four pixels around a place, so that no gap stays where rows of the strip spread apart on a curve.</summary>
    private static void Mark(byte[] classes, GreyImage before, CanalStrips strip, int row, int column, ResidueClass found)
    {
        var place = strip.PlaceOf(row, strip.OffsetOf(column));
        var left = (int)Math.Floor(place.X);
        var top = (int)Math.Floor(place.Y);
        for (var y = top; y <= top + 1; y++)
        {
            for (var x = left; x <= left + 1; x++)
            {
                if (x >= 0 && y >= 0 && x < before.Width && y < before.Height
                    && Math.Abs(x - place.X) <= 0.75 && Math.Abs(y - place.Y) <= 0.75)
                {
                    ref var here = ref classes[(y * before.Width) + x];
                    here = Math.Max(here, (byte)found);
                }
            }
        }
    }

    private static ShiftField Corrections(GreyImage before, TracedBranch[] branches, LocalShifts[] shifts)
    {
        var anchors = new List<(PixelPoint Place, PixelPoint Shift)>();
        for (var i = 0; i < branches.Length; i++)
        {
            var path = branches[i].Path;
            for (var level = branches[i].OwnFromPixels; level <= path.LengthPixels; level += 15)
            {
                anchors.Add((path.At(level), shifts[i].At(level)));
            }
        }

        return ShiftField.From(before.Width, before.Height, anchors, CorrectionReachPixels);
    }

    /// <summary>Corrections blended between the canals, on a coarse grid.</summary>
    private sealed class ShiftField(GreyImage x, GreyImage y)
    {
        private const int Cell = 16;

        public static ShiftField From(int width, int height, List<(PixelPoint Place, PixelPoint Shift)> anchors, double reach)
        {
            var gridX = new GreyImage((width / Cell) + 2, (height / Cell) + 2);
            var gridY = new GreyImage(gridX.Width, gridX.Height);
            for (var row = 0; row < gridX.Height; row++)
            {
                for (var column = 0; column < gridX.Width; column++)
                {
                    double sum = 0.02, dx = 0, dy = 0;
                    foreach (var (place, shift) in anchors)
                    {
                        var far = place.DistanceTo(new PixelPoint(column * Cell, row * Cell)) / reach;
                        var weight = Math.Exp(-0.5 * far * far);
                        sum += weight;
                        dx += weight * shift.X;
                        dy += weight * shift.Y;
                    }

                    gridX[column, row] = (float)(dx / sum);
                    gridY[column, row] = (float)(dy / sum);
                }
            }

            return new ShiftField(gridX, gridY);
        }

        public PixelPoint At(int column, int row) =>
            new(x.At(column / (double)Cell, row / (double)Cell), y.At(column / (double)Cell, row / (double)Cell));
    }
}
