using System.Text;
using CsCheck;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Identify;
using Secondpass.Radiographs.Read;
using Secondpass.Tests.Radiographs.Read;

namespace Secondpass.Tests.Radiographs.Identify;

public sealed class IdentityReaderTests
{
    [Fact]
    public void Reads_name_number_birth_date_tooth_and_time_from_a_DICOM_film()
    {
        var stated = IdentityReader.Read(NamedFilm.Of("Bird^Anna^Maria^Dr", "4711", "19610304", "16", "20260304", "091530"));

        Assert.Equal("Bird, Anna Maria", stated.PatientName);
        Assert.Equal("4711", stated.PatientNumber);
        Assert.Equal(new DateOnly(1961, 3, 4), stated.Born);
        Assert.Equal("upper right first molar", Assert.Single(stated.Teeth).Words);
        Assert.Equal(new DateTime(2026, 3, 4, 9, 15, 30, DateTimeKind.Unspecified), stated.TakenAt);
    }

    // Code values of CID 4018 in DICOM PS3.16.
    [Theory]
    [InlineData("SCT", "865995000", "16")]
    [InlineData("SCT", "866005003", "46")]
    [InlineData("SCT", "865988009", "26")]
    [InlineData("SCT", "422653006", "11")]
    [InlineData("ISO3950-2010", "48", "48")]
    [InlineData("SCT", "123037004", null)]
    [InlineData("ISO3950-2010", "99", null)]
    [InlineData("99OWN", "16", null)]
    public void Knows_a_tooth_by_its_code(string scheme, string code, string? tooth) => Assert.Equal(
        tooth is null ? [] : [tooth],
        IdentityReader.Read(NamedFilm.Of(tooth: code, scheme: scheme)).Teeth.Select(one => one.ToString()));

    [Theory]
    [InlineData("ISO_IR 100", "iso-8859-1", "Müller^Jörg", "Müller, Jörg")]
    [InlineData("ISO_IR 192", "utf-8", "Škoda^Zoë", "Škoda, Zoë")]
    [InlineData("ISO_IR 101", "iso-8859-2", "Škoda^Jiří", "Škoda, Jiří")]
    [InlineData("ISO_IR 144", "iso-8859-5", "Птица^Анна", "Птица, Анна")]
    [InlineData(@"\ISO 2022 IR 87", "us-ascii", "Yamada^Taro=other letters", "Yamada, Taro")]
    public void Reads_a_name_in_the_letters_that_the_file_says(string set, string page, string written, string name)
    {
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        var film = DicomFile.Sound(DicomFile.Text(0x00080005, "CS", set), DicomFile.Element(0x00100010, "PN", NamedFilm.Even(Encoding.GetEncoding(page).GetBytes(written))));

        Assert.Equal(name, IdentityReader.Read(film).PatientName);
    }

    [Fact]
    public void Reads_a_film_whose_elements_name_no_representation()
    {
        byte[][] elements = [DicomFile.Text(0x00100010, "PN", "Bird^Anna"), DicomFile.Text(0x00100020, "LO", "4711")];
        var film = DicomFile.Join([.. DicomFile.Elements(elements).Select(DicomFile.ToImplicit)], DicomFile.Implicit);

        Assert.Equal(("Bird, Anna", "4711"), (IdentityReader.Read(film).PatientName, IdentityReader.Read(film).PatientNumber));
    }

    [Fact]
    public void A_film_that_names_nobody_says_nothing()
    {
        Assert.Equal(StatedIdentity.None with { Teeth = [] }, IdentityReader.Read(DicomFile.Sound()) with { Teeth = StatedIdentity.None.Teeth });
        Assert.False(IdentityReader.Read(DicomFile.Sound()).NamesPatient);
        Assert.Same(StatedIdentity.None, IdentityReader.Read(Job.DemoFilm.Before(Job.DemoFilm.Incisor)));
    }

    [Theory]
    [InlineData("19610230")]
    [InlineData("1961")]
    [InlineData("unknown")]
    public void A_birth_date_that_is_no_day_is_left_out(string written) => Assert.Null(IdentityReader.Read(NamedFilm.Of(born: written)).Born);

    [Fact]
    public void No_content_makes_it_throw()
    {
        var film = NamedFilm.Of("Bird^Anna", "4711", "19610304", "16", "20260304", "091530");
        Gen.Select(Gen.Int[0, film.Length - 1], Gen.Byte, Gen.Int[0, 400]).Sample(
            (place, value, cut) =>
            {
                var broken = film.ToArray();
                broken[Math.Min(place % 700, film.Length - 1)] = value;
                IdentityReader.Read(broken);
                IdentityReader.Read(broken.AsMemory(0, broken.Length - cut));
                IdentityReader.Read(broken.AsMemory(0, Math.Min(cut, broken.Length)));
            },
            iter: 3000);
    }

    [Fact]
    public void What_names_a_patient_stays_out_of_the_film_itself() =>
        Assert.DoesNotContain("Bird", string.Join(' ', FilmReader.Read(NamedFilm.Of("Bird^Anna")).Value.Notices), StringComparison.Ordinal);
}
