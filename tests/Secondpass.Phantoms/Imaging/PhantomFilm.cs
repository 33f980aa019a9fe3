using Secondpass.Domain.Films;
using Secondpass.Phantoms.Anatomy;
using Secondpass.Phantoms.Contents;

namespace Secondpass.Phantoms.Imaging;

/// <summary>A simulated film with what it was made from. Everything is invented.</summary>
/// <param name="Radiograph">The film.</param>
/// <param name="Tooth">The tooth.</param>
/// <param name="Geometry">How it was taken.</param>
/// <param name="Exposure">How it was exposed and processed.</param>
/// <param name="Contents">What stood in the canals.</param>
/// <param name="FillingThickness">By branch: thickness of the old filling (or of what is left of it) along each pixel's ray.</param>
public sealed record PhantomFilm(
    Radiograph Radiograph,
    PhantomTooth Tooth,
    FilmGeometry Geometry,
    Exposure Exposure,
    PhantomContents Contents,
    IReadOnlyDictionary<string, ThicknessMap> FillingThickness);
