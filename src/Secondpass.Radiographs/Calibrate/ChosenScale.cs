using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Calibrate;

/// <summary>The scale that a film is measured with, and what the dentist should know about it.</summary>
/// <param name="Scale">The scale; null when there is none: then lengths are in pixels and shares in percent, never in millimetres.</param>
/// <param name="Notices">Sentences for the dentist; empty when there is nothing to say.</param>
public sealed record ChosenScale(Calibration? Scale, IReadOnlyList<string> Notices);
