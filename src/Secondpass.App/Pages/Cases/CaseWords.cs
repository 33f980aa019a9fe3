using Secondpass.App.Pages.Films;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;

namespace Secondpass.App.Pages.Cases;

/// <summary>Choices of a case as they stand on its pages.</summary>
internal static class CaseWords
{
    public static string Of(CanalFilling filling) => filling switch
    {
        CanalFilling.Filled => "Filled",
        CanalFilling.ShortOfEnd => "Short",
        CanalFilling.BeyondEnd => "Beyond",
        CanalFilling.Unfilled => "Not filled",
        _ => "Not judged",
    };

    public static string Of(CanalIntent intent) => intent switch
    {
        CanalIntent.LeaveAlone => "leave alone",
        CanalIntent.LookFor => "look for it",
        _ => "treat again",
    };

    public static string Of(MeetingPlane plane) => plane switch
    {
        MeetingPlane.Mesiodistal => "mesiodistal",
        MeetingPlane.Buccolingual => "buccolingual",
        _ => "not known",
    };

    public static string Of(Obstacle obstacle) => obstacle switch
    {
        Obstacle.Ledge => "ledge",
        Obstacle.SeparatedInstrument => "separated instrument",
        Obstacle.Blockage => "blockage",
        Obstacle.Perforation => "perforation",
        _ => "post",
    };

    public static string Of(FilmMoment moment) => moment switch
    {
        FilmMoment.During => "during removal",
        FilmMoment.After => "after filling",
        FilmMoment.Recall => "at recall",
        _ => "before treatment",
    };

    public static string Of(TubeShift shift) => "tube " + ParallaxReading.InWords(shift);

    public static string Of(CaseFilm film) =>
        $"{Of(film.Moment)}, {Of(film.Shift)}{(film.Taken is { } at ? $", {FilmWords.Moment(at)}{(film.DayEntered is null ? "" : " as entered")}" : "")}";

    public static string Of(Movement movement) => movement switch
    {
        Movement.Mesial => "mesially",
        Movement.Distal => "distally",
        _ => "not at all",
    };

    public static string Of(ParallaxSide side) => side switch
    {
        ParallaxSide.Buccal => "buccal",
        ParallaxSide.Lingual => "lingual or palatal",
        _ => "in the same plane",
    };

    public static string Of(PulpalDiagnosis diagnosis) => diagnosis switch
    {
        PulpalDiagnosis.PreviouslyTreated => "previously treated",
        PulpalDiagnosis.PreviouslyInitiated => "previously initiated therapy",
        PulpalDiagnosis.Necrosis => "pulp necrosis",
        PulpalDiagnosis.SymptomaticIrreversible => "symptomatic irreversible pulpitis",
        PulpalDiagnosis.AsymptomaticIrreversible => "asymptomatic irreversible pulpitis",
        PulpalDiagnosis.Reversible => "reversible pulpitis",
        _ => "normal pulp",
    };

    public static string Of(ApicalDiagnosis diagnosis) => diagnosis switch
    {
        ApicalDiagnosis.Normal => "normal apical tissues",
        ApicalDiagnosis.SymptomaticPeriodontitis => "symptomatic apical periodontitis",
        ApicalDiagnosis.AsymptomaticPeriodontitis => "asymptomatic apical periodontitis",
        ApicalDiagnosis.AcuteAbscess => "acute apical abscess",
        ApicalDiagnosis.ChronicAbscess => "chronic apical abscess",
        ApicalDiagnosis.CondensingOsteitis => "condensing osteitis",
        _ => "not diagnosed yet",
    };

    public static string Of(Restorability restorability) => restorability switch
    {
        Restorability.Restorable => "Restorable",
        Restorability.Doubtful => "Doubtful",
        Restorability.NotRestorable => "Not restorable",
        _ => "Not judged",
    };

    public static string Of(OldFilling filling) => filling switch
    {
        OldFilling.GuttaPercha => "gutta-percha and sealer",
        OldFilling.SingleCone => "a single loose cone",
        OldFilling.CarrierBased => "gutta-percha on a carrier",
        OldFilling.SilverPoint => "a silver point",
        OldFilling.HardPaste => "a paste that sets hard",
        OldFilling.SoftPaste => "a soft paste",
        _ => "not known",
    };

    public static string Of(LengthEnd end) => end switch
    {
        LengthEnd.RadiographicApex => "the apex on the film",
        LengthEnd.Foramen => "the foramen",
        LengthEnd.WorkingLength => "the working length",
        LengthEnd.FileStop => "where a file stopped",
        LengthEnd.FillingEnd => "the end of the old filling",
        _ => "a split or join",
    };

    public static string Of(LengthSource source) => source switch
    {
        LengthSource.Film => "film",
        LengthSource.FilmWithFile => "film with a file in place",
        LengthSource.LengthMeter => "length meter",
        LengthSource.ConeBeamScan => "cone-beam scan",
        _ => "stop on an instrument",
    };
}
