using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Instruments;

namespace Secondpass.Job.Documents;

/// <summary>A length as read.</summary>
/// <param name="From">The reference point.</param>
/// <param name="ReferenceVersion">Rises when the reference point is reduced.</param>
/// <param name="To">The end it was read to.</param>
/// <param name="Mm">The length.</param>
/// <param name="Source">How it was read.</param>
[Description("A length exactly as it was read.")]
public sealed record LengthDocument(
    [property: Description("The reference point, such as \"mesiobuccal cusp\"."), Length(1, CaseDocument.LongestWords)] string From,
    [property: Description("What it was read to: radiographic_apex, foramen, working_length, file_stop, filling_end or meeting."), Words(typeof(LengthEnd))] string To,
    [property: Description("The length in mm, more than 0.")] double Mm,
    [property: Description("How it was read: film, film_with_file, length_meter, cone_beam_scan or instrument_stop."), Words(typeof(LengthSource))] string Source,
    [property: Description("Rises by 1 when the reference point is reduced or lost: older lengths no longer count. Null: 1.")] double? ReferenceVersion = null);

/// <summary>Where a canal meets another.</summary>
/// <param name="Canal">The other canal.</param>
/// <param name="Joins">Whether it joins or leaves.</param>
/// <param name="FromEndMm">The level.</param>
/// <param name="Plane">The plane.</param>
[Description("Where a canal leaves its trunk, or joins another canal.")]
public sealed record MeetingDocument(
    [property: Description("The other canal. Null: the trunk of which this is a branch."), Length(1, CanalDocument.LongestName)] string? Canal,
    [property: Description("true: it joins the other; false: it leaves it.")] bool Joins,
    [property: Description("Level in mm from this canal's end. Null: not known.")] double? FromEndMm,
    [property: Description("unknown (default), mesiodistal or buccolingual."), Words(typeof(MeetingPlane))] string? Plane);

/// <summary>A wall as read.</summary>
/// <param name="FromEndMm">The level.</param>
/// <param name="Side">The side.</param>
/// <param name="Mm">Its thickness.</param>
[Description("A wall of dentine as read on a cone-beam scan.")]
public sealed record WallDocument(
    [property: Description("Level in mm from the canal's end.")] double FromEndMm,
    [property: Description("The side in words, such as distal."), Length(1, CanalDocument.LongestName)] string Side,
    [property: Description("Thickness in mm.")] double Mm);

/// <summary>The clinic's instruments, sequences and limits.</summary>
/// <param name="Kinds">Own kinds.</param>
/// <param name="Items">Instruments in stock.</param>
/// <param name="UltrasonicUnit">The ultrasonic unit.</param>
/// <param name="Sequences">Own sequences.</param>
/// <param name="Solvent">The solvent preferred.</param>
/// <param name="Limits">Own limits.</param>
/// <param name="UseCount">How uses are counted.</param>
[Description("The clinic's own instruments, sequences and limits. What is left out is as shipped.")]
public sealed record ClinicDocument(
    [property: Description("Kinds of instruments beside the shipped ones; one of the same code replaces it.")] IReadOnlyList<KindDocument>? Kinds,
    [property: Description("Instruments in stock with their uses so far.")] IReadOnlyList<ItemDocument>? Items,
    [property: Description("The ultrasonic unit: a tip that doesn't fit is never proposed. Null: not entered.")] UnitDocument? UltrasonicUnit,
    [property: Description("Sequences beside the shipped one.")] IReadOnlyList<SequenceDocument>? Sequences,
    [property: Description("The solvent that the clinic prefers: chloroform, halothane, xylene, eucalyptol, orange-oil or turpentine. Null: none."), Length(1, CanalDocument.LongestName)] string? Solvent,
    [property: Description("Limits that the plan keeps to. Null: as shipped.")] LimitsDocument? Limits,
    [property: Description("How uses of an instrument are counted: per_tooth_and_visit (default), per_canal or single_use, by which every file permits one use."), Words(typeof(UseCount))] string? UseCount = null);

/// <summary>A kind of instrument.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Name">Its name.</param>
/// <param name="Sort">Its sort.</param>
/// <param name="TipSize">Tip size.</param>
/// <param name="Taper">Taper.</param>
/// <param name="CuttingLengthMm">Cutting part.</param>
/// <param name="GreatestDiameterMm">Greatest diameter.</param>
/// <param name="SpeedRpm">The maker's range.</param>
/// <param name="TorqueNcm">The maker's limit.</param>
/// <param name="UsesPermitted">Uses.</param>
/// <param name="Fitting">Fitting.</param>
[Description("A kind of instrument, from its maker's instructions.")]
public sealed record KindDocument(
    [property: Description("Short word, unique, such as \"retreatment-25-06\"."), Length(1, CanalDocument.LongestName)] string Code,
    [property: Description("Its name by size, taper and kind."), Length(1, CaseDocument.LongestWords)] string Name,
    [property: Description("Its sort: retreatment_rotary, ultrasonic_file, adaptive_core_file, orifice_opener, hand_file, hedstrom_file, heated_plugger, micro_opener, forceps or extractor_tube."), Words(typeof(InstrumentSort))] string Sort,
    [property: Description("ISO size at the tip, hundredths of a mm. Null: none.")] double? TipSize,
    [property: Description("Taper in mm per mm, such as 0.06. Null: none.")] double? Taper,
    [property: Description("Length of the cutting part in mm. Null: none.")] double? CuttingLengthMm,
    [property: Description("Diameter that the cutting part never exceeds, in mm. Null: none stated.")] double? GreatestDiameterMm,
    [property: Description("The maker's range of speed. Null: not stated, or it doesn't rotate."), Columns("least, rpm", "greatest, rpm")] double[]? SpeedRpm,
    [property: Description("The maker's torque limit in N·cm. Null: not stated.")] double? TorqueNcm,
    [property: Description("Uses permitted. Null: not stated.")] double? UsesPermitted,
    [property: Description("What it fits: a thread or chuck, in the words of the unit. Null: not stated."), Length(1, CaseDocument.LongestWords)] string? Fitting);

/// <summary>An instrument in stock.</summary>
/// <param name="Id">Its identity.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Position">Where it stands.</param>
/// <param name="Uses">Uses so far.</param>
[Description("An instrument in stock.")]
public sealed record ItemDocument(
    [property: Description("Its identity, unique."), Length(1, CanalDocument.LongestName)] string Id,
    [property: Description("The code of its kind."), Length(1, CanalDocument.LongestName)] string Kind,
    [property: Description("Where it stands, such as \"kit A, 3\". Null: loose."), Length(1, CaseDocument.LongestWords)] string? Position,
    [property: Description("Uses so far, 0 or more.")] double Uses);

/// <summary>The ultrasonic unit.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Thread">Its thread.</param>
/// <param name="Chuck">Its chuck.</param>
[Description("The clinic's ultrasonic unit.")]
public sealed record UnitDocument(
    [property: Description("How the clinic calls it."), Length(1, CaseDocument.LongestWords)] string Name,
    [property: Description("Its thread, such as \"M3 × 0.5\". Null: none."), Length(1, CaseDocument.LongestWords)] string? Thread,
    [property: Description("Its chuck for files, such as \"file chuck\". Null: none."), Length(1, CaseDocument.LongestWords)] string? Chuck);

/// <summary>A sequence.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Steps">Its steps.</param>
[Description("A named order of instruments.")]
public sealed record SequenceDocument(
    [property: Description("Its name."), Length(1, CaseDocument.LongestWords)] string Name,
    [property: Description("Its steps in order; at least one."), MinLength(1)] IReadOnlyList<SequenceStepDocument> Steps);

/// <summary>One step of a sequence.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Rpm">Speed.</param>
/// <param name="TorqueNcm">Torque.</param>
/// <param name="Note">Anything else.</param>
[Description("One step of a sequence.")]
public sealed record SequenceStepDocument(
    [property: Description("The code of its kind."), Length(1, CanalDocument.LongestName)] string Kind,
    [property: Description("Speed that the clinic runs it at, in rpm. Null: it doesn't rotate, or not said.")] double? Rpm,
    [property: Description("Torque limit that the clinic sets, in N·cm. Null: not said.")] double? TorqueNcm,
    [property: Description("Anything else, in words."), Length(1, CaseDocument.LongestWords)] string? Note);

/// <summary>Limits.</summary>
/// <param name="WallLeftMm">Wall left.</param>
/// <param name="LossPerSideMm">Loss per side.</param>
/// <param name="ConcavityMm">Allowance.</param>
/// <param name="Attempts">Attempts.</param>
/// <param name="LedgeMinutes">Minutes at a ledge.</param>
/// <param name="WithdrawalMinutes">Minutes at a withdrawal.</param>
[Description("Limits that a plan keeps to; null is as shipped.")]
public sealed record LimitsDocument(
    [property: Description("Wall of dentine left at least, in mm.")] double? WallLeftMm,
    [property: Description("Dentine cut on each side at most, in mm.")] double? LossPerSideMm,
    [property: Description("Taken off a wall towards the furcation that a film shows, in mm.")] double? ConcavityMm,
    [property: Description("Attempts at an obstacle.")] double? Attempts,
    [property: Description("Minutes at a ledge or blockage.")] double? LedgeMinutes,
    [property: Description("Minutes at a separated instrument, silver point, carrier or cone.")] double? WithdrawalMinutes);
