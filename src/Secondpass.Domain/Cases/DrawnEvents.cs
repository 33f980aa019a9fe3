using Secondpass.Domain.Films;

namespace Secondpass.Domain.Cases;

/// <summary>Something was drawn on a film of the case and measured.</summary>
/// <param name="Measurement">What was drawn, under a number of its own.</param>
public sealed record MeasurementDrawn(DrawnMeasurement Measurement) : CaseEvent;

/// <summary>A measurement was renamed, or its points were moved.</summary>
/// <param name="Measurement">As it is now, under its number.</param>
public sealed record MeasurementChanged(DrawnMeasurement Measurement) : CaseEvent;

/// <summary>A measurement was removed; it can be put back.</summary>
/// <param name="Number">Its number.</param>
public sealed record MeasurementRemoved(int Number) : CaseEvent;

/// <summary>A measurement that was removed was put back as it was.</summary>
/// <param name="Number">Its number.</param>
public sealed record MeasurementPutBack(int Number) : CaseEvent;
