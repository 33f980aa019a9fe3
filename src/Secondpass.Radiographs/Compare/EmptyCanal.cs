namespace Secondpass.Radiographs.Compare;

/// <summary>What a canal looks like where nothing is left in it: how much wider than the old filling it was cut, and how dark.</summary>
/// <param name="WidenedPixels">Dentine cut away beyond the old filling's edge on each side, in pixels.</param>
/// <param name="DarkPerPixel">How much darker than dentine an empty canal is, in grey levels per pixel of ray inside it.</param>
/// <param name="OffsetGrey">Grey that the film after lost beside the canal, to be taken off every loss.</param>
internal readonly record struct EmptyCanal(double WidenedPixels, double DarkPerPixel, double OffsetGrey);

/// <summary>An empty canal that may be so, and how likely it is.</summary>
/// <param name="Canal">The canal.</param>
/// <param name="Weight">Share of belief; all sum to 1.</param>
internal readonly record struct WeighedCanal(EmptyCanal Canal, double Weight);
