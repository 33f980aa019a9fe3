using Secondpass.Domain;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Straighten;

/// <summary>Puts the four marks on a film's corners in order, and refuses marks that no film's corners can be.</summary>
internal static class FilmCorners
{
    /// <summary>Puts marks in order.</summary>
    /// <param name="photograph">The photograph that they are on.</param>
    /// <param name="marks">The marks, in any order.</param>
    /// <returns>
    /// The four, clockwise as seen, first the one from which a side runs most nearly to the right; or a refusal:
    /// <c>not_four_corners</c>, <c>corner_outside</c>, <c>corners_too_close</c>, <c>not_corners</c>.
    /// </returns>
    public static Answer<IReadOnlyList<PixelPoint>> InOrder(Radiograph photograph, IReadOnlyList<PixelPoint> marks)
    {
        if (marks.Count != 4)
        {
            return StraightenRefusals.NotFour(marks.Count);
        }

        foreach (var mark in marks)
        {
            if (!photograph.Holds(mark))
            {
                return StraightenRefusals.Outside(mark, photograph);
            }
        }

        var middle = (marks[0] + marks[1] + marks[2] + marks[3]) * 0.25;
        var round = marks.OrderBy(mark => Math.Atan2(mark.Y - middle.Y, mark.X - middle.X)).ToArray();
        for (var i = 0; i < 4; i++)
        {
            var side = round[i].DistanceTo(round[(i + 1) % 4]);
            if (side < FilmReading.SmallestSide.Value)
            {
                return StraightenRefusals.TooClose(side);
            }
        }

        for (var i = 0; i < 4; i++)
        {
            var (back, on) = (round[(i + 3) % 4] - round[i], round[(i + 1) % 4] - round[i]);

            // Signed: a mark that lies inside the triangle of the others turns the other way.
            var degrees = double.RadiansToDegrees(Math.Atan2((on.X * back.Y) - (on.Y * back.X), (on.X * back.X) + (on.Y * back.Y)));
            if (degrees < PhotographedFilms.LeastCorner.Value || degrees > 180 - PhotographedFilms.LeastCorner.Value)
            {
                return StraightenRefusals.NotCorners(round[i], degrees < 0 ? 360 + degrees : degrees);
            }
        }

        var first = Enumerable.Range(0, 4).MaxBy(i =>
        {
            var side = round[(i + 1) % 4] - round[i];
            return side.X / double.Hypot(side.X, side.Y);
        });
        return Enumerable.Range(first, 4).Select(i => round[i % 4]).ToArray();
    }
}
