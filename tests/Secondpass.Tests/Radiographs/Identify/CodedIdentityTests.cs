using Secondpass.Domain.Films;
using Secondpass.Radiographs.Identify;
using Secondpass.Tests.Radiographs.Read;

namespace Secondpass.Tests.Radiographs.Identify;

// Character sets and every tooth code are checked against pydicom in Secondpass.Outside.
public sealed class CodedIdentityTests
{
    [Fact]
    public void Reads_whom_and_what_the_film_shows()
    {
        byte[] region = [.. Code("T-11180", "SRT", "Mandible"), .. DicomFile.Sequence(0x00082220, Code("any", "SCT", "First molar region"))];
        var file = DicomFile.Join(
        [
            DicomFile.Text(0x00080020, "DA", "20260102"), DicomFile.Text(0x00080022, "DA", "20260103"), DicomFile.Text(0x00080032, "TM", "091530.25"),
            DicomFile.Sequence(0x00082218, region),
            DicomFile.Sequence(0x00082228, Code("T-54230", "SRT", "any"), Code("863902006", "SCT", "any"), Code("T-5423X", "SRT", "Implant"), Code("16", "ISO3950", "any")),
            DicomFile.Text(0x00100010, "PN", "Invented^Name^^Dr"), DicomFile.Text(0x00100020, "LO", " INV-1"), DicomFile.Text(0x00100030, "DA", "1901.02.03"),
            .. DicomFile.Elements(),
        ]);
        var stated = IdentityReader.Read(file);

        Assert.Equal(("Invented, Name", "INV-1", new DateOnly(1901, 2, 3)), (stated.PatientName, stated.PatientNumber, stated.Born));
        Assert.Equal(new DateTime(2026, 1, 3, 9, 15, 30, DateTimeKind.Unspecified), stated.TakenAt);
        Assert.Equal([16, 17], stated.Teeth.Select(found => found.Number));
    }

    [Theory]
    [InlineData("packed.dcm")]
    [InlineData("lossless.dcm")]
    [InlineData("runs.dcm")]
    [InlineData("big-endian.dcm")]
    [InlineData("deflated.dcm")]
    [InlineData("undefined-length.dcm")]
    [InlineData("no-header.dcm")]
    public void Reads_it_from_a_film_that_is_encoded_in_any_way_that_is_read(string seed)
    {
        var stated = IdentityReader.Read(Answers.Seed(seed));

        Assert.Equal(("Invented, Name", "INVENTED-1"), (stated.PatientName, stated.PatientNumber));
        Assert.Equal([16], stated.Teeth.Select(tooth => tooth.Number));
    }

    // The time stands in one text with the day, or in its own; where it is none, it is midnight.
    [Theory]
    [InlineData(0x0008002Au, "20260203091530.5+0100", null, 9)]
    [InlineData(0x00080022u, "20260203", "09:15:30", 9)]
    [InlineData(0x00080023u, "20260203", "soon", 0)]
    [InlineData(0x00080020u, "2026.02.03", null, 0)]
    public void Reads_when_the_film_was_taken(uint tag, string day, string? time, int hour)
    {
        byte[][] elements = time is null ? [DicomFile.Text(tag, "DT", day)] : [DicomFile.Text(tag, "DA", day), DicomFile.Text(tag + 0x10, "TM", time)];

        Assert.Equal((new DateOnly(2026, 2, 3), hour), IdentityReader.Read(DicomFile.Join([.. elements, .. DicomFile.Elements()])).TakenAt is { } taken ? (DateOnly.FromDateTime(taken), taken.Hour) : default);
    }

    [Theory]
    [InlineData("ISO 2022 IR 100", "a^b", "a, b")]
    [InlineData("\\ISO 2022 IR 87", "=a^b", "a, b")]
    [InlineData("ISO_IR 100", "^^", null)]
    [InlineData("ISO_IR 100", "^b", "b")]
    [InlineData("ISO_IR 999", "a^b", null)]
    public void Reads_a_name_in_a_character_set_that_is_known_and_no_other(string set, string written, string? name) =>
        Assert.Equal(name, IdentityReader.Read(DicomFile.Join([DicomFile.Text(0x00080005, "CS", set), DicomFile.Text(0x00100010, "PN", written), .. DicomFile.Elements()])).PatientName);

    [Fact]
    public void A_file_without_sense_or_without_names_says_nothing()
    {
        Assert.Same(StatedIdentity.None, IdentityReader.Read(Answers.Seed("grey8.png")));
        Assert.Same(StatedIdentity.None, IdentityReader.Read(ReadOnlyMemory<byte>.Empty));
        Assert.Same(StatedIdentity.None, IdentityReader.Read(DicomFile.Join([DicomFile.Text(0x00100010, "PN", "cut off")]).AsMemory()[..^4]));
        Assert.False(IdentityReader.Read(DicomFile.Sound()).NamesPatient);
        Assert.Null(IdentityReader.Read(DicomFile.Join([DicomFile.Text(0x00080020, "DA", "20261399"), .. DicomFile.Elements()])).TakenAt);
    }

    private static byte[] Code(string value, string scheme, string meaning) =>
        [.. DicomFile.Text(0x00080100, "SH", value), .. DicomFile.Text(0x00080102, "SH", scheme), .. DicomFile.Text(0x00080104, "LO", meaning)];
}
