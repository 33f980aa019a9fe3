using Secondpass.Domain.Films;

namespace Secondpass.Phantoms.Imaging;

/// <summary>Thickness of one branch's old filling along the ray of each pixel of a film, in mm; kept only where the branch's filling falls.</summary>
public sealed class ThicknessMap
{
    internal ThicknessMap(int filmWidth, int filmHeight, int left, int top, int width, int height)
    {
        FilmWidth = filmWidth;
        FilmHeight = filmHeight;
        Left = left;
        Top = top;
        Width = width;
        Height = height;
        Values = new float[width * height];
    }

    /// <summary>Columns of the film.</summary>
    public int FilmWidth { get; }

    /// <summary>Rows of the film.</summary>
    public int FilmHeight { get; }

    /// <summary>First column kept.</summary>
    public int Left { get; }

    /// <summary>First row kept.</summary>
    public int Top { get; }

    /// <summary>Columns kept.</summary>
    public int Width { get; }

    /// <summary>Rows kept.</summary>
    public int Height { get; }

    /// <summary>Thickness in mm, row by row of the part kept.</summary>
    public float[] Values { get; }

    /// <summary>Thickness at a pixel of the film in mm; 0 outside the part kept.</summary>
    public float this[int column, int row] =>
        column >= Left && row >= Top && column < Left + Width && row < Top + Height
            ? Values[((row - Top) * Width) + column - Left]
            : 0;

    /// <summary>Sum over all pixels in mm·pixels.</summary>
    public double Sum()
    {
        double sum = 0;
        foreach (var value in Values)
        {
            sum += value;
        }

        return sum;
    }

    /// <summary>Number of pixels where the filling is at least so thick.</summary>
    public int CountFrom(double millimetres) => Values.Count(value => value >= millimetres);

    /// <summary>Calls an action for every pixel kept with filling.</summary>
    public void ForEach(Action<PixelPoint, float> action)
    {
        ArgumentNullException.ThrowIfNull(action);
        for (var row = 0; row < Height; row++)
        {
            for (var column = 0; column < Width; column++)
            {
                var value = Values[(row * Width) + column];
                if (value > 0)
                {
                    action(new PixelPoint(Left + column, Top + row), value);
                }
            }
        }
    }
}
