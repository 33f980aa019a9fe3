namespace Secondpass.Domain.Instruments;

/// <summary>What counts as one use of an instrument. Each use is noted per canal at the chair; how they are counted is the clinic's rule.</summary>
public enum UseCount
{
    /// <summary>Once for each visit of a tooth, however many canals.</summary>
    PerToothAndVisit,

    /// <summary>Once for each canal of a visit.</summary>
    PerCanal,

    /// <summary>Once for each visit of a tooth, and a file only once at all: a country's rule of single use stands above what its kind permits.</summary>
    SingleUse,
}
