using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;

namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>What a DICOM file says of whom and what it shows (DICOM PS3.3, C.7.1.1 patient, C.8.11.9 intra-oral image).</summary>
internal static class DicomSubject
{
    /// <summary>The subject, or null when the file says nothing of it.</summary>
    public static FilmSubject? From(DicomElements elements)
    {
        var characterSet = elements.Text(DicomTag.CharacterSet);
        var (teeth, others) = Structures(elements, characterSet);
        var subject = new FilmSubject(
            DicomText.ReadName(elements.Bytes(DicomTag.PatientName).Span, characterSet),
            DicomText.Read(elements.Bytes(DicomTag.PatientNumber).Span, characterSet),
            DicomText.ReadDay(elements.Text(DicomTag.PatientBirthDate)),
            DicomText.ReadDay(elements.Text(DicomTag.AcquisitionDate)) ?? DicomText.ReadDay(elements.Text(DicomTag.StudyDate)),
            teeth,
            others.Count == 0 ? null : string.Join(", ", others));
        return subject is { PatientName: null, PatientNumber: null, BirthDate: null, TakenOn: null, Region: null, Teeth.Count: 0 } ? null : subject;
    }

    // The region, what narrows it down, and the structures, each as a code with its meaning in words; the structures stand
    // beside the region (C.8.11.9), or inside it where writers of other films put them.
    private static (IReadOnlyList<ToothNumber> Teeth, IReadOnlyList<string> Others) Structures(DicomElements elements, string? characterSet)
    {
        var regions = elements.Items(DicomTag.AnatomicRegion);
        var named = regions
            .Concat(regions.SelectMany(region => region.Items(DicomTag.AnatomicRegionModifier)))
            .Concat(elements.Items(DicomTag.PrimaryStructure))
            .Concat(regions.SelectMany(region => region.Items(DicomTag.PrimaryStructure)));
        var teeth = new List<ToothNumber>();
        var others = new List<string>();
        foreach (var item in named)
        {
            if (ToothCodes.Find(item.Text(DicomTag.CodingScheme), item.Text(DicomTag.CodeValue)) is { } tooth)
            {
                AddOnce(teeth, tooth);
            }
            else if (DicomText.Read(item.Bytes(DicomTag.CodeMeaning).Span, characterSet) is { } meaning)
            {
                AddOnce(others, meaning);
            }
        }

        return (teeth, others);
    }

    private static void AddOnce<T>(List<T> list, T value)
    {
        if (!list.Contains(value))
        {
            list.Add(value);
        }
    }
}
