namespace Secondpass.Radiographs.Read.Dicom;

/// <summary>The data elements that are looked at (DICOM PS3.6). Nothing else of a file is kept while it is read; of patients only what <see cref="Domain.Films.StatedIdentity"/> holds, and that apart from the film.</summary>
internal static class DicomTag
{
    public const uint MediaStorageClass = 0x00020002;
    public const uint TransferSyntax = 0x00020010;
    public const uint CharacterSet = 0x00080005;
    public const uint StudyDate = 0x00080020;
    public const uint AcquisitionDate = 0x00080022;
    public const uint ContentDate = 0x00080023;
    public const uint AcquisitionMoment = 0x0008002A;
    public const uint StudyTime = 0x00080030;
    public const uint AcquisitionTime = 0x00080032;
    public const uint ContentTime = 0x00080033;
    public const uint PresentationIntent = 0x00080068;
    public const uint CodeValue = 0x00080100;
    public const uint CodingScheme = 0x00080102;
    public const uint LongCodeValue = 0x00080119;
    public const uint AnatomicRegion = 0x00082218;
    public const uint AnatomicRegionModifier = 0x00082220;
    public const uint PrimaryStructure = 0x00082228;
    public const uint PatientName = 0x00100010;
    public const uint PatientNumber = 0x00100020;
    public const uint PatientBirthDate = 0x00100030;
    public const uint DistanceToDetector = 0x00181110;
    public const uint DistanceToPatient = 0x00181111;
    public const uint EstimatedMagnification = 0x00181114;
    public const uint ImagerPixelSpacing = 0x00181164;
    public const uint NominalScannedPixelSpacing = 0x00182010;
    public const uint SamplesPerPixel = 0x00280002;
    public const uint PhotometricInterpretation = 0x00280004;
    public const uint PlanarConfiguration = 0x00280006;
    public const uint NumberOfFrames = 0x00280008;
    public const uint Rows = 0x00280010;
    public const uint Columns = 0x00280011;
    public const uint PixelSpacing = 0x00280030;
    public const uint PixelAspectRatio = 0x00280034;
    public const uint BitsAllocated = 0x00280100;
    public const uint BitsStored = 0x00280101;
    public const uint HighBit = 0x00280102;
    public const uint PixelRepresentation = 0x00280103;
    public const uint PixelSpacingCalibrationType = 0x00280A02;
    public const uint WindowCentre = 0x00281050;
    public const uint WindowWidth = 0x00281051;
    public const uint RescaleIntercept = 0x00281052;
    public const uint RescaleSlope = 0x00281053;
    public const uint WindowFunction = 0x00281056;
    public const uint RedDescriptor = 0x00281101;
    public const uint GreenDescriptor = 0x00281102;
    public const uint BlueDescriptor = 0x00281103;
    public const uint RedTable = 0x00281201;
    public const uint GreenTable = 0x00281202;
    public const uint BlueTable = 0x00281203;
    public const uint RedSegments = 0x00281221;
    public const uint LossyCompression = 0x00282110;
    public const uint ModalityTable = 0x00283000;
    public const uint TableDescriptor = 0x00283002;
    public const uint TableData = 0x00283006;
    public const uint WindowTable = 0x00283010;
    public const uint PresentationShape = 0x20500020;
    public const uint FloatPixelData = 0x7FE00008;
    public const uint DoublePixelData = 0x7FE00009;
    public const uint PixelData = 0x7FE00010;

    /// <summary>Whether the value of an element is kept while the film is read.</summary>
    public static bool IsLookedAt(uint tag) => tag switch
    {
        MediaStorageClass or TransferSyntax or CharacterSet or StudyDate or AcquisitionDate or ContentDate or AcquisitionMoment or StudyTime or AcquisitionTime or ContentTime => true,
        PresentationIntent or LongCodeValue or CodeValue => true,
        CodingScheme or AnatomicRegion or AnatomicRegionModifier or PrimaryStructure or PatientName or PatientNumber => true,
        DistanceToDetector or DistanceToPatient => true,
        PatientBirthDate or EstimatedMagnification or ImagerPixelSpacing or NominalScannedPixelSpacing or SamplesPerPixel => true,
        PhotometricInterpretation or PlanarConfiguration or NumberOfFrames or Rows or Columns or PixelSpacing or PixelAspectRatio => true,
        BitsAllocated or BitsStored or HighBit or PixelRepresentation or PixelSpacingCalibrationType or WindowCentre or WindowWidth => true,
        RescaleIntercept or RescaleSlope or WindowFunction or LossyCompression or ModalityTable or TableDescriptor or TableData => true,
        RedDescriptor or GreenDescriptor or BlueDescriptor or RedTable or GreenTable or BlueTable or RedSegments => true,
        WindowTable or PresentationShape or FloatPixelData or DoublePixelData or PixelData => true,
        _ => false,
    };
}
