using Secondpass.Domain.Cases;
using Secondpass.Domain.Quantities;

namespace Secondpass.Domain.Chairside;

/// <summary>The finish note of a visit was written: the last one of that visit holds.</summary>
/// <param name="Visit">Number of the visit, from 1.</param>
/// <param name="Note">The note.</param>
public sealed record FinishNoted(int Visit, FinishNote Note) : CaseEvent;

/// <summary>An irrigant as used; listed in the order of use.</summary>
/// <param name="Name">What it is, such as sodium hypochlorite.</param>
/// <param name="ConcentrationPercent">Concentration in percent; null when not noted.</param>
/// <param name="Millilitres">Volume in ml; null when not noted.</param>
/// <param name="Minutes">Minutes in the canal; null when not noted.</param>
/// <param name="Activation">How it was moved, in words; null when not.</param>
public sealed record IrrigantUse(string Name, double? ConcentrationPercent, double? Millilitres, double? Minutes, string? Activation);

/// <summary>How one canal was finished.</summary>
/// <param name="Canal">The canal.</param>
/// <param name="WorkingLength">Working length from the reference; null when not reached.</param>
/// <param name="ReferencePoint">The reference point.</param>
/// <param name="MasterApicalFile">Size and taper of the master apical file, such as "35/.04".</param>
/// <param name="MasterCone">Size and taper of the master cone; null when not filled yet.</param>
/// <param name="Method">How it was filled; null when not filled yet.</param>
public sealed record CanalFinish(string Canal, Millimetres? WorkingLength, string? ReferencePoint, string? MasterApicalFile, string? MasterCone, string? Method);

/// <summary>What a visit ended with.</summary>
/// <param name="Anaesthetic">Anaesthetic and amount, in words.</param>
/// <param name="Isolation">Isolation, in words.</param>
/// <param name="Irrigants">Irrigants in order of use.</param>
/// <param name="Canals">Canal by canal.</param>
/// <param name="Dressing">Dressing; null when none.</param>
/// <param name="TemporarySeal">Temporary seal; null when none.</param>
/// <param name="Sealer">Sealer; null when not filled.</param>
/// <param name="SealerLot">Its lot.</param>
/// <param name="OrificeSeal">Seal over the orifices.</param>
/// <param name="Core">Core.</param>
/// <param name="Instructions">What the patient was told.</param>
/// <param name="CallOn">Day of the post-operative call.</param>
/// <param name="RestorationBy">Who restores the tooth.</param>
/// <param name="RestorationUntil">By when.</param>
/// <param name="Finished">Whether treatment is complete with this visit.</param>
public sealed record FinishNote(
    string? Anaesthetic,
    string? Isolation,
    IReadOnlyList<IrrigantUse> Irrigants,
    IReadOnlyList<CanalFinish> Canals,
    string? Dressing,
    string? TemporarySeal,
    string? Sealer,
    string? SealerLot,
    string? OrificeSeal,
    string? Core,
    string? Instructions,
    DateOnly? CallOn,
    string? RestorationBy,
    DateOnly? RestorationUntil,
    bool Finished);

/// <summary>A letter was made from the case; its files are stored.</summary>
/// <param name="Kind">reply or patient.</param>
/// <param name="Text">Its text as sent.</param>
/// <param name="PdfSha256">The PDF.</param>
/// <param name="DocxSha256">The DOCX; null when none.</param>
public sealed record LetterMade(string Kind, string Text, string PdfSha256, string? DocxSha256) : CaseEvent;
