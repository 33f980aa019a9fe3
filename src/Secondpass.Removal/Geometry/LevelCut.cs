namespace Secondpass.Removal.Geometry;

/// <summary>What an instrument does at one level, in widths: filling cut, dentine cut on each side, new width.</summary>
/// <remarks>Sections are taken as circles with one middle: the instrument runs in the middle of the filling.</remarks>
/// <param name="FromEndMillimetres">Level from the canal's end.</param>
/// <param name="OldWidthMillimetres">Width of the canal before.</param>
/// <param name="FillingWidthMillimetres">Width of the filling before, not wider than the canal; 0 where there is none.</param>
/// <param name="FillingCutMillimetres">Width of filling that is cut: at most the filling's own.</param>
/// <param name="DentinePerSideMillimetres">Dentine cut on each side.</param>
/// <param name="NewWidthMillimetres">Width of the canal after: never less than before.</param>
public readonly record struct LevelCut(
    double FromEndMillimetres,
    double OldWidthMillimetres,
    double FillingWidthMillimetres,
    double FillingCutMillimetres,
    double DentinePerSideMillimetres,
    double NewWidthMillimetres)
{
    /// <summary>What a width of instrument cuts at a level.</summary>
    /// <param name="fromEndMillimetres">Level from the canal's end.</param>
    /// <param name="fillingWidthMillimetres">Width of the filling, 0 where there is none.</param>
    /// <param name="canalWidthMillimetres">Width of the canal.</param>
    /// <param name="instrumentWidthMillimetres">Width that the instrument cuts there, 0 where it doesn't reach.</param>
    public static LevelCut Of(double fromEndMillimetres, double fillingWidthMillimetres, double canalWidthMillimetres, double instrumentWidthMillimetres)
    {
        // A filling that is read wider than its canal is as wide as the canal.
        var canal = Math.Max(fillingWidthMillimetres, canalWidthMillimetres);
        var after = Math.Max(canal, instrumentWidthMillimetres);
        return new LevelCut(
            fromEndMillimetres,
            canal,
            fillingWidthMillimetres,
            Math.Min(fillingWidthMillimetres, instrumentWidthMillimetres),
            (after - canal) / 2,
            after);
    }
}
