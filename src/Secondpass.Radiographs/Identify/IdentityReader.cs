using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read.Dicom;

namespace Secondpass.Radiographs.Identify;

/// <summary>Reads whom and what a film's file says it shows. Apart from the reader of films, which keeps nothing personal.</summary>
/// <remarks>
/// DICOM only (PS3.3, C.7.1.1 patient, C.7.2.1 study, C.8.11.9 intra-oral image; PS3.5, 6.2.1 names): PNG, JPEG, TIFF and BMP have no
/// agreed place for it, and a file's name is not taken for one. What can't be read is left out; no content makes it throw.
/// Pixels are not unpacked, but a deflated file is.
/// </remarks>
public static class IdentityReader
{
    /// <summary>Reads what a file says.</summary>
    /// <param name="file">The whole file. Not changed and not kept.</param>
    /// <returns>What it says; <see cref="StatedIdentity.None"/> when it says nothing, or nothing that can be read.</returns>
    public static StatedIdentity Read(ReadOnlyMemory<byte> file)
    {
        if (Elements(file) is not { } elements)
        {
            return StatedIdentity.None;
        }

        var characterSet = elements.Text(DicomTag.CharacterSet);
        return new StatedIdentity(
            DicomText.ReadName(elements.Bytes(DicomTag.PatientName).Span, characterSet),
            DicomText.ReadDay(elements.Text(DicomTag.PatientBirthDate)),
            DicomText.Read(elements.Bytes(DicomTag.PatientNumber).Span, characterSet),
            Teeth(elements),
            TakenAt(elements));
    }

    private static DicomElements? Elements(ReadOnlyMemory<byte> file) =>
        (DicomDetector.HasPreamble(file.Span) || DicomDetector.BeginsWithoutPreamble(file.Span)) && DicomElements.Parse(file).TryGet(out var elements, out _)
            ? elements
            : null;

    // The exposure itself, else when the picture was made, else when the visit began.
    private static DateTime? TakenAt(DicomElements elements) =>
        DicomText.ReadMoment(elements.Text(DicomTag.AcquisitionMoment), null)
        ?? DicomText.ReadMoment(elements.Text(DicomTag.AcquisitionDate), elements.Text(DicomTag.AcquisitionTime))
        ?? DicomText.ReadMoment(elements.Text(DicomTag.ContentDate), elements.Text(DicomTag.ContentTime))
        ?? DicomText.ReadMoment(elements.Text(DicomTag.StudyDate), elements.Text(DicomTag.StudyTime));

    // The region, what narrows it down, and the structures, each as a code; the structures stand beside the region
    // (C.8.11.9), or inside it where writers of other films put them.
    private static List<ToothNumber> Teeth(DicomElements elements)
    {
        var regions = elements.Items(DicomTag.AnatomicRegion);
        var named = regions
            .Concat(regions.SelectMany(region => region.Items(DicomTag.AnatomicRegionModifier)))
            .Concat(elements.Items(DicomTag.PrimaryStructure))
            .Concat(regions.SelectMany(region => region.Items(DicomTag.PrimaryStructure)));
        var teeth = new List<ToothNumber>();
        foreach (var item in named)
        {
            var code = item.Text(DicomTag.CodeValue) ?? item.Text(DicomTag.LongCodeValue);
            if (CodedTeeth.Find(item.Text(DicomTag.CodingScheme), code) is { } tooth && !teeth.Contains(tooth))
            {
                teeth.Add(tooth);
            }
        }

        return teeth;
    }
}
