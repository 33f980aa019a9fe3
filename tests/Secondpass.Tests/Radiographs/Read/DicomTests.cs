using System.Text;
using CsCheck;
using Secondpass.Domain.Films;
using static Secondpass.Tests.Radiographs.Read.Answers;

namespace Secondpass.Tests.Radiographs.Read;

public sealed class DicomTests
{
    private const string Irregular = "Parts of the DICOM file do not keep to the standard; they were skipped or read as well as possible.";

    [Fact]
    public void Keeps_every_stored_value()
    {
        var film = Film(DicomFile.Sound());

        Assert.Equal((64, 64, 4095, FilmFormat.Dicom), (film.Width, film.Height, film.GreatestValue, film.Format));
        Assert.Equal(Enumerable.Range(0, 64 * 64).Select(value => (ushort)value), film.Pixels.ToArray());
        Assert.Empty(film.Notices);
        Assert.Null(film.Spacing);
        Assert.Null(film.ShownWindow);
    }

    // PS3.3, C.7.6.3.1.2: MONOCHROME1 shows the smallest value white.
    [Fact]
    public void Turns_MONOCHROME1_round_so_that_larger_is_lighter()
    {
        var film = Film(DicomFile.Sound(DicomFile.Text(0x00280004, "CS", "MONOCHROME1")));

        Assert.Equal((4095, 0), (film.At(0, 0), film.At(63, 63)));
    }

    [Fact]
    public void Raises_signed_values_by_half_their_range()
    {
        var film = Film(DicomFile.Sound(
            DicomFile.Number(0x00280103, 1),
            DicomFile.Pixels(Enumerable.Range(0, 64 * 64).Select(value => (ushort)(short)(value - 2048)))));

        Assert.Equal(Enumerable.Range(0, 64 * 64).Select(value => (ushort)value), film.Pixels.ToArray());
    }

    [Fact]
    public void Takes_values_from_where_their_bits_are_and_drops_what_stands_beside_them()
    {
        var film = Film(DicomFile.Sound(
            DicomFile.Number(0x00280101, 10),
            DicomFile.Number(0x00280102, 12),
            DicomFile.Pixels(Enumerable.Range(0, 64 * 64).Select(value => (ushort)(0xE005 | ((value % 1024) << 3))))));

        Assert.Equal(1023, film.GreatestValue);
        Assert.Equal(Enumerable.Range(0, 64 * 64).Select(value => (ushort)(value % 1024)), film.Pixels.ToArray());
    }

    // Rescale is a straight line: it may turn light and dark round, and changes nothing else.
    [Fact]
    public void A_rescale_line_changes_no_value_and_a_falling_one_only_the_direction() =>
        Gen.Select(Gen.Double[0.01, 50], Gen.Double[-5000, 5000], Gen.Bool).Sample(
            (slope, intercept, falling) =>
            {
                var film = Film(DicomFile.Sound(
                    DicomFile.Text(0x00281052, "DS", Written(intercept)),
                    DicomFile.Text(0x00281053, "DS", Written(falling ? -slope : slope))));
                return film.At(0, 0) == (falling ? 4095 : 0) && film.At(63, 63) == (falling ? 0 : 4095) && film.At(5, 0) == (falling ? 4090 : 5);
            },
            iter: 50);

    // PS3.3, C.11.2.1.2.1: black is c − 0.5 − (w − 1)/2, white is c − 0.5 + (w − 1)/2, on the output of the rescale.
    [Theory]
    [InlineData("MONOCHROME2", "1", "0", "2048", "4096", null, 0, 4095)]
    [InlineData("MONOCHROME2", "2", "-1000", "3000.5", "2001", null, 1500, 2500)]
    [InlineData("MONOCHROME1", "1", "0", "1000.5", "1001", null, 2595, 3595)]
    [InlineData("MONOCHROME2", "-1", "4095", "1000.5", "1001", null, 500, 1500)]
    [InlineData("MONOCHROME2", "1", "0", "1000", "1000", "LINEAR_EXACT", 500, 1500)]
    [InlineData("MONOCHROME2", "1", "0", "1000\\7", "1000\\9", "SIGMOID", 500, 1500)]
    public void Brings_the_window_onto_the_scale_of_the_kept_values(
        string photometric, string slope, string intercept, string centre, string width, string? function, double black, double white)
    {
        byte[][] changes =
        [
            DicomFile.Text(0x00280004, "CS", photometric), DicomFile.Text(0x00281050, "DS", centre), DicomFile.Text(0x00281051, "DS", width),
            DicomFile.Text(0x00281052, "DS", intercept), DicomFile.Text(0x00281053, "DS", slope),
        ];

        var window = Film(DicomFile.Sound(function is null ? changes : [.. changes, DicomFile.Text(0x00281056, "CS", function)])).ShownWindow;

        Assert.Equal(new GreyWindow(black, white), window);
    }

    [Theory]
    [InlineData("100", "0")]
    [InlineData("100", "1")]
    [InlineData("100", "-50")]
    [InlineData("one", "50")]
    [InlineData("1.7e308", "1.7e308")]
    public void A_window_that_is_none_is_left_out(string centre, string width) =>
        Assert.Null(Film(DicomFile.Sound(DicomFile.Text(0x00281050, "DS", centre), DicomFile.Text(0x00281051, "DS", width))).ShownWindow);

    [Fact]
    public void Turns_colour_into_luma_with_a_notice_by_pixel_and_by_plane()
    {
        byte[][] colour =
        [
            DicomFile.Number(0x00280002, 3), DicomFile.Text(0x00280004, "CS", "RGB"), DicomFile.Number(0x00280100, 8),
            DicomFile.Number(0x00280101, 8), DicomFile.Number(0x00280102, 7),
        ];
        var byPixel = new byte[64 * 64 * 3];
        (byPixel[0], byPixel[4]) = (255, 255);
        var byPlane = new byte[64 * 64 * 3];
        (byPlane[0], byPlane[(64 * 64) + 1]) = (255, 255);

        var first = Film(DicomFile.Sound([.. colour, DicomFile.Element(0x7FE00010, "OB", byPixel)]));
        var second = Film(DicomFile.Sound([.. colour, DicomFile.Number(0x00280006, 1), DicomFile.Element(0x7FE00010, "OB", byPlane)]));

        // Recommendation ITU-R BT.709-6: red alone gives 54, green alone 182.
        Assert.Equal([54, 182, 0], first.Pixels[..3].ToArray());
        Assert.Equal(first.Pixels.ToArray(), second.Pixels.ToArray());
        Assert.Equal([ColourToGrey], first.Notices);
    }

    // PS3.3, 10.7.1.1 to 10.7.1.3.
    [Theory]
    [InlineData("0.03\\0.03", null, null, null, 0.03, SpacingMeaning.AtDetector, null)]
    [InlineData("0.03\\0.03", "0.030\\0.030", null, null, 0.03, SpacingMeaning.AtDetector, null)]
    [InlineData("0.03\\0.03", "0.03\\0.03", "GEOMETRY", null, 0.03, SpacingMeaning.AtDetector, null)]
    [InlineData("0.03\\0.03", "0.028\\0.028", null, null, 0.028, SpacingMeaning.AtObject, "The file gives 0.03 mm per pixel at the sensor and 0.028 mm in the patient without saying how it was corrected; the second was taken.")]
    [InlineData("0.03\\0.03", "0.028\\0.028", "FIDUCIAL", null, 0.028, SpacingMeaning.AtObject, "The file gives 0.03 mm per pixel at the sensor and 0.028 mm in the patient, calibrated by an object of known size; the second was taken.")]
    [InlineData("0.03\\0.03", "0.028\\0.028", "GEOMETRY", "1.1", 0.028, SpacingMeaning.AtObject, "The file gives 0.03 mm per pixel at the sensor and 0.028 mm in the patient, corrected for magnification; the second was taken.")]
    [InlineData(null, "0.028\\0.028", "GEOMETRY", null, 0.028, SpacingMeaning.AtObject, null)]
    [InlineData(null, "0.028\\0.028", "FIDUCIAL", null, 0.028, SpacingMeaning.AtObject, null)]
    [InlineData(null, "0.028\\0.028", null, null, 0.028, SpacingMeaning.Unstated, null)]
    [InlineData("0.033\\0.033", null, null, "1.1", 0.03, SpacingMeaning.AtObject, "The file gives 0.033 mm per pixel at the sensor and an estimated magnification of 1.1; the scale was divided by it.")]
    [InlineData("0.033\\0.033", "0.033\\0.033", null, "1.1", 0.03, SpacingMeaning.AtObject, "The file gives 0.033 mm per pixel at the sensor and an estimated magnification of 1.1; the scale was divided by it.")]
    [InlineData("0.033\\0.033", null, null, "1", 0.033, SpacingMeaning.AtDetector, null)]
    [InlineData("0.033\\0.033", null, null, "11", 0.033, SpacingMeaning.AtDetector, "The file states a magnification of 11, which is not plausible; it was ignored.")]
    [InlineData("0\\0", null, null, null, null, null, "The file states a resolution of zero; it was ignored.")]
    [InlineData("0.03\\0.03", "0\\0", null, null, 0.03, SpacingMeaning.AtDetector, "The file states a resolution of zero; it was ignored.")]
    [InlineData("0.03", null, null, null, null, null, null)]
    [InlineData("0,03\\0,03", null, null, null, null, null, null)]
    [InlineData("3\\3", null, null, null, 3.0, SpacingMeaning.AtDetector, null)]
    public void Chooses_between_the_scales_that_a_file_may_state(
        string? imager, string? pixel, string? type, string? magnification, double? millimetres, SpacingMeaning? meaning, string? notice)
    {
        var film = Film(DicomFile.Sound([.. new[] { (0x00181114u, magnification), (0x00181164u, imager), (0x00280030u, pixel), (0x00280A02u, type) }
            .Where(element => element.Item2 is not null)
            .Select(element => DicomFile.Text(element.Item1, element.Item1 == 0x00280A02 ? "CS" : "DS", element.Item2!))]));

        Assert.Equal(millimetres, film.Spacing is { } spacing ? Math.Round(spacing.PixelWidth.Value, 9, MidpointRounding.AwayFromZero) : null);
        Assert.Equal(film.Spacing?.PixelWidth, film.Spacing?.PixelHeight);
        Assert.Equal(meaning, film.Spacing?.Meaning);
        Assert.Equal(notice is null ? [] : [notice], film.Notices);
    }

    [Theory]
    [InlineData("330", "300", null, 0.03, SpacingMeaning.AtObject, "The file gives 0.033 mm per pixel at the sensor, 330 mm from the tube to the sensor and 300 mm to the patient, a magnification of 1.1; the scale was divided by it.")]
    [InlineData("330", "100", null, 0.033, SpacingMeaning.AtDetector, "The file gives 330 mm from the tube to the sensor and 100 mm to the patient, which is not plausible; it was ignored.")]
    [InlineData("300", "330", null, 0.033, SpacingMeaning.AtDetector, "The file gives 300 mm from the tube to the sensor and 330 mm to the patient, which is not plausible; it was ignored.")]
    [InlineData("330", "0", null, 0.033, SpacingMeaning.AtDetector, null)]
    [InlineData("330", "330", null, 0.033, SpacingMeaning.AtDetector, null)]
    [InlineData("330", "300", "1", 0.033, SpacingMeaning.AtDetector, null)]
    public void Distances_from_the_tube_give_the_magnification_where_the_file_leaves_it_out(
        string toDetector, string toPatient, string? magnification, double millimetres, SpacingMeaning meaning, string? notice)
    {
        var film = Film(DicomFile.Sound([.. new[] { (0x00181110u, toDetector), (0x00181111u, toPatient), (0x00181114u, magnification), (0x00181164u, "0.033\\0.033") }
            .Where(element => element.Item2 is not null)
            .Select(element => DicomFile.Text(element.Item1, "DS", element.Item2!))]));

        Assert.Equal((millimetres, meaning), (Math.Round(film.Spacing!.Value.PixelWidth.Value, 9, MidpointRounding.AwayFromZero), film.Spacing!.Value.Meaning));
        Assert.Equal(notice is null ? [] : [notice], film.Notices);
    }

    [Fact]
    public void What_a_file_leaves_out_of_its_greys_is_assumed_with_a_notice()
    {
        var kind = Film(DicomFile.Without(0x00280004));
        Assert.Equal((0, 4095), (kind.At(0, 0), kind.At(63, 63)));
        Assert.Equal(
            ["The file does not say which end of its grey values is to be shown light; the largest was taken for it (MONOCHROME2). Invert the view if it looks like a negative."],
            kind.Notices);

        var bits = Film(DicomFile.Join([.. DicomFile.Elements(DicomFile.Number(0x00280102, 15)).Where(element => DicomFile.TagOf(element) != 0x00280101)]));
        Assert.Equal(65535, bits.GreatestValue);
        Assert.Equal(["The file does not say how many bits of a grey value are used; all 16 were taken, so the film may look dark."], bits.Notices);
    }

    [Fact]
    public void A_window_without_width_is_ignored_with_a_notice() => Assert.Equal(
        ["The file asks to be shown with a window 0 wide, which is none; it was ignored, and the film may look different elsewhere."],
        Film(DicomFile.Sound(DicomFile.Text(0x00281050, "DS", "100"), DicomFile.Text(0x00281051, "DS", "0"))).Notices);

    // PS3.3, 10.7.1.3: the first value is the distance between rows.
    [Fact]
    public void Takes_the_first_spacing_for_the_height_and_says_when_pixels_are_not_square()
    {
        var film = Film(DicomFile.Sound(DicomFile.Text(0x00181164, "DS", "0.03\\0.025")));

        Assert.Equal((0.025, 0.03), (film.Spacing!.Value.PixelWidth.Value, film.Spacing!.Value.PixelHeight.Value));
        Assert.Equal(["The file says that its pixels are not square (0.025 × 0.03 mm)."], film.Notices);
        Assert.Equal(
            ["The file says that its pixels are not square; lengths and angles on it are distorted."],
            Film(DicomFile.Sound(DicomFile.Text(0x00280034, "IS", "3\\2"))).Notices);
    }

    [Fact]
    public void Says_what_it_does_not_apply()
    {
        var film = Film(DicomFile.Sound(
            DicomFile.Text(0x00282110, "CS", "01"),
            DicomFile.Element(0x00283000, "SQ", []),
            DicomFile.Element(0x00283010, "SQ", []),
            DicomFile.Text(0x00080068, "CS", "FOR PROCESSING"),
            DicomFile.Text(0x00281052, "DS", "0"),
            DicomFile.Text(0x00281053, "DS", "0")));

        Assert.Equal(
            [
                LossyCompression,
                "The file holds the sensor's unprocessed values (for processing): it may look flat, or like a negative.",
                "The file carries a table that changes its grey values (modality LUT), but it can't be used; the stored values were taken without it.",
                "The file's rescale slope is not usable; it was ignored.",
                "The file asks to be shown through a table of greys (VOI LUT) that can't be used; it is shown without it and may look different elsewhere.",
            ],
            film.Notices);
    }

    // PS3.3, C.8.11.3: IDENTITY stands with MONOCHROME2, INVERSE with MONOCHROME1; where they contradict each other, the shape says what comes out.
    [Theory]
    [InlineData("MONOCHROME1", "INVERSE", 4095, false)]
    [InlineData("MONOCHROME2", "IDENTITY", 0, false)]
    [InlineData("MONOCHROME1", "IDENTITY", 0, true)]
    [InlineData("MONOCHROME2", "INVERSE", 4095, true)]
    [InlineData("MONOCHROME1", "LIN OD", 4095, false)]
    public void Follows_the_presentation_shape_and_says_when_the_file_contradicts_itself(string photometric, string shape, int first, bool contradicts)
    {
        var film = Film(DicomFile.Sound(DicomFile.Text(0x00280004, "CS", photometric), DicomFile.Text(0x20500020, "CS", shape)));

        Assert.Equal(first, film.At(0, 0));
        Assert.Equal(
            contradicts
                ? ["The file contradicts itself about which end of its grey values is to be shown light; its presentation shape was followed. Invert the view if it looks like a negative."]
                : [],
            film.Notices);
    }

    // PS3.3, C.11.1.1.1: inputs below the first take the first entry, those beyond the last the last.
    [Fact]
    public void Applies_the_modality_table_with_a_notice()
    {
        var film = Film(DicomFile.Sound(Table(0x00283000, 100, 10, [5, 1000, 7])));

        Assert.Equal(1023, film.GreatestValue);
        Assert.Equal([5, 5, 1000, 7, 7], new[] { 0, 100, 101, 102, 4095 }.Select(i => (int)film.Pixels[i]));
        Assert.Equal(["The file carries a table that turns its stored numbers into grey values (modality LUT); it was applied."], film.Notices);
    }

    [Fact]
    public void Reads_a_table_of_single_bytes_and_refuses_to_use_one_that_is_none()
    {
        byte[] bytes = [.. DicomFile.Element(0x00283002, "US", [4, 0, 0, 0, 8, 0]), .. DicomFile.Element(0x00283006, "OW", [9, 20, 31, 255])];
        Assert.Equal([9, 20, 31, 255, 255], Film(DicomFile.Sound(DicomFile.Sequence(0x00283000, bytes))).Pixels[..5].ToArray().Select(value => (int)value));

        byte[][] unusable =
        [
            [],
            DicomFile.Element(0x00283002, "US", [2, 0, 0, 0, 10, 0]),
            [.. DicomFile.Element(0x00283002, "US", [9, 0, 0, 0, 10, 0]), .. DicomFile.Element(0x00283006, "OW", [0, 0])],
            [.. DicomFile.Element(0x00283002, "US", [2, 0, 0, 0, 7, 0]), .. DicomFile.Element(0x00283006, "OW", [0, 0, 1, 0])],
            [.. DicomFile.Element(0x00283002, "US", [2, 0, 0, 0, 10, 0]), .. DicomFile.Element(0x00283006, "OW", [0, 0, 0, 4])],
        ];
        foreach (var table in unusable)
        {
            var film = Film(DicomFile.Sound(DicomFile.Sequence(0x00283000, table)));
            Assert.Equal((4095, "The file carries a table that changes its grey values (modality LUT), but it can't be used; the stored values were taken without it."), (film.GreatestValue, film.Notices[0]));
        }
    }

    [Fact]
    public void Shows_a_film_with_the_curve_of_its_table_and_keeps_its_values()
    {
        var straight = Film(DicomFile.Sound(Table(0x00283010, 1000, 8, [0, 0, 127, 255, 255])));
        var curved = Film(DicomFile.Sound(Table(0x00283010, 1000, 8, [0, 0, 20, 200, 200]), DicomFile.Text(0x00280004, "CS", "MONOCHROME1")));
        var falling = Film(DicomFile.Sound(Table(0x00283010, 1000, 8, [255, 100, 0])));
        var sound = Film(DicomFile.Sound());

        Assert.Equal((new GreyWindow(1001, 1003), 0), (straight.ShownWindow, straight.Notices.Count));
        Assert.Null(straight.ShownCurve);
        Assert.Equal((new GreyWindow(4095 - 1003, 4095 - 1001), 0), (curved.ShownWindow, curved.Notices.Count));
        Assert.Equal([55, 55, 235, 255, 255], Shades(curved, 0, 4095 - 1003, 4095 - 1002, 4095 - 1001, 4095));
        Assert.Equal((new GreyWindow(1000, 1002), 0), (falling.ShownWindow, falling.Notices.Count));
        Assert.Equal([255, 255, 100, 0, 0], Shades(falling, 0, 1000, 1001, 1002, 4095));
        Assert.Equal(sound.Pixels.ToArray(), straight.Pixels.ToArray());
        Assert.Equal(sound.Pixels.ToArray(), falling.Pixels.ToArray());
        Assert.All(Enumerable.Range(0, 4096), i => Assert.Equal(4095 - sound.Pixels[i], curved.Pixels[i]));
    }

    // PS3.3, C.11.2.1.3.1: the middle is half, and a quarter of the width off it 1/(1 + e^∓1).
    [Fact]
    public void Shows_a_sigmoid_window_as_the_curve_that_it_is()
    {
        var film = Film(DicomFile.Sound(DicomFile.Text(0x00281050, "DS", "2000"), DicomFile.Text(0x00281051, "DS", "1000"), DicomFile.Text(0x00281056, "CS", "SIGMOID")));

        Assert.Equal(new GreyWindow(1500, 2500), film.ShownWindow);
        Assert.Equal([0, 69, 128, 186, 255], Shades(film, 0, 1750, 2000, 2250, 4095));
    }

    // PS3.3, C.11.2.1: a window and a table are two ways to show the same film, and either may be taken.
    [Fact]
    public void Takes_the_table_where_there_is_a_window_too_and_the_window_where_the_table_is_none()
    {
        byte[][] window = [DicomFile.Text(0x00281050, "DS", "2000"), DicomFile.Text(0x00281051, "DS", "1001")];
        var film = Film(DicomFile.Sound([Table(0x00283010, 1000, 8, [0, 200]), .. window]));
        var flat = Film(DicomFile.Sound([Table(0x00283010, 1000, 8, [200, 200]), .. window]));

        Assert.Equal((new GreyWindow(1000, 1001), 0), (film.ShownWindow, film.Notices.Count));
        Assert.Equal(new GreyWindow(1499.5, 2499.5), flat.ShownWindow);
        Assert.Equal(["The file asks to be shown through a table of greys (VOI LUT) that can't be used; it is shown without it and may look different elsewhere."], flat.Notices);
    }

    [Fact]
    public void Reads_a_palette_as_the_brightness_of_its_colours()
    {
        byte[] Palette(params byte[] entries) => [.. entries];
        var grey = Film(WithPalette(8, Palette(0, 100, 255), Palette(0, 100, 255), Palette(0, 100, 255)));
        var colour = Film(WithPalette(8, Palette(255, 0, 0), Palette(0, 255, 0), Palette(0, 0, 255)));

        Assert.Equal(255, grey.GreatestValue);
        Assert.Equal(["The file is stored as colour, but every pixel is grey: nothing was lost."], grey.Notices);
        Assert.Equal([0, 0, 100, 255, 255], new[] { 0, 10, 11, 12, 4095 }.Select(i => (int)grey.Pixels[i]));
        Assert.Equal([54, 54, 182, 18, 18], new[] { 0, 10, 11, 12, 4095 }.Select(i => (int)colour.Pixels[i]));
        Assert.Equal(["The file is in colour; its brightness was taken as the grey value. Shades that the colours stood for may be lost: a grey export is better."], colour.Notices);
    }

    [Fact]
    public void Refuses_a_palette_that_is_none_or_comes_in_segments()
    {
        RefusesAsDamaged(WithPalette(8, [0, 1], [0, 1, 2, 3], [0, 1, 2, 3]), "DICOM", "its palette of colours is missing or not as long as it states");
        RefusesAsDamaged(DicomFile.Sound(DicomFile.Text(0x00280004, "CS", "PALETTE COLOR")), "DICOM", "its palette of colours is missing or not as long as it states");
        RefusesAsDamaged(
            DicomFile.Sound([.. PaletteElements(8, [0, 1, 2, 3], [0, 1, 2, 3], [0, 1, 2, 3]).Skip(1), DicomFile.Element(0x00281101, "US", [4, 0, 10, 0, 16, 0])]),
            "DICOM",
            "its palette of colours is missing or not as long as it states");
        RefusesAsDamaged(
            DicomFile.Sound(
            [
                .. PaletteElements(8, [0, 1, 2, 3], [0, 1, 2, 3], [0, 1, 2, 3]).Where((_, index) => index is not (0 or 3)),
                DicomFile.Element(0x00281101, "US", [2, 0, 10, 0, 16, 0]), DicomFile.Element(0x00281201, "OW", [0, 1, 2, 3]),
            ]),
            "DICOM",
            "its palette states colours of 16, 8 and 8 bits");
        RefusesByName(
            DicomFile.Sound(DicomFile.Text(0x00280004, "CS", "PALETTE COLOR"), DicomFile.Element(0x00281221, "OW", [0, 0, 1, 0])), "DICOM", "a palette of colours written in segments");
        Refuses(
            DicomFile.Sound(DicomFile.Text(0x00280004, "CS", "PALETTE COLOR"), DicomFile.Element(0x00281221, "OW", [0, 0, 1, 0])),
            "unsupported_film",
            "This DICOM file uses a palette of colours written in segments, which is not read here.",
            "Export the film as DICOM without compression, or as a grey PNG or TIFF.");
    }

    // PS3.3, C.7.6.3.1.2: Y1 Y2 Cb Cr for each two pixels; half of the range is no difference.
    [Fact]
    public void Reads_colour_differences_that_two_pixels_share()
    {
        byte[] HalfDifferences(ushort columns, int bytes) => DicomFile.Sound(
            DicomFile.Number(0x00280002, 3),
            DicomFile.Text(0x00280004, "CS", "YBR_FULL_422"),
            DicomFile.Number(0x00280006, 0),
            DicomFile.Number(0x00280011, columns),
            DicomFile.Number(0x00280100, 8),
            DicomFile.Number(0x00280101, 8),
            DicomFile.Number(0x00280102, 7),
            DicomFile.Element(0x7FE00010, "OB", [.. Enumerable.Repeat<byte[]>([50, 90, 128, 128, 100, 100, 128, 255], bytes / 8).SelectMany(group => group)]));
        var film = Film(HalfDifferences(64, 64 * 64 * 2));

        // The second pair is red: 100 + 178 is kept at 255, green 100 − 91 = 9, blue 100; by BT.709-6 their luma is 68.
        Assert.Equal([50, 90, 68, 68, 50], film.Pixels[..5].ToArray().Select(value => (int)value));
        RefusesAsDamaged(HalfDifferences(64, (64 * 64 * 2) - 8), "DICOM", "its 64 × 64 pixels need 8192 bytes and it holds 8184");
        RefusesAsDamaged(HalfDifferences(65, 64 * 65 * 2), "DICOM", "its 65 columns are no pairs, which pixels of kind YBR_FULL_422 need");
    }

    [Fact]
    public void Reads_a_file_without_preamble_or_encoding_with_a_notice()
    {
        byte[] date = DicomFile.Text(0x00080005, "CS", "ISO_IR 100");
        byte[] elements = [.. date, .. DicomFile.Elements().SelectMany(element => element)];
        const string noPreamble = "The DICOM file has no proper beginning (preamble); it was read all the same.";

        Assert.Equal(
            [noPreamble, "The DICOM file does not say how it is encoded; uncompressed little endian was assumed."],
            Film(elements).Notices);
        Assert.Equal([noPreamble], Film(DicomFile.Sound()[128..]).Notices);
        Assert.Equal([noPreamble], Film([.. DicomFile.Text(0x00020010, "UI", DicomFile.Explicit), .. elements]).Notices);
        Assert.Equal(4095, Film(elements).At(63, 63));
    }

    [Fact]
    public void Reads_odd_lengths_unknown_representations_implicit_elements_and_repetitions_with_a_notice()
    {
        byte[][] irregular =
        [
            DicomFile.Element(0x00080070, "LO", [65, 66, 67]),
            DicomFile.Element(0x00091010, "XX", [1, 2, 3, 4]),
            DicomFile.Bare(0x00091012, 2, 1, 2),
            DicomFile.Number(0x00280010, 99),
        ];
        foreach (var element in irregular.Take(3))
        {
            Assert.Equal([Irregular], Film(DicomFile.Join([element, .. DicomFile.Elements()])).Notices);
        }

        // The first of two equal elements counts.
        var film = Film(DicomFile.Join([.. DicomFile.Elements().SkipLast(1), irregular[3], DicomFile.Elements()[^1]]));
        Assert.Equal((64, Irregular), (film.Height, Assert.Single(film.Notices)));
    }

    [Fact]
    public void Reads_a_file_that_is_encoded_otherwise_than_it_says_with_a_notice()
    {
        Assert.Equal([Irregular], Film(DicomFile.Join(DicomFile.Elements(), DicomFile.Implicit)).Notices);

        byte[][] bare = [.. DicomFile.Elements().Select(DicomFile.ToImplicit)];
        Assert.Equal([Irregular], Film(DicomFile.Join(bare)).Notices);
        Assert.Empty(Film(DicomFile.Join(bare, DicomFile.Implicit)).Notices);
    }

    // PS3.5, 7.5: an item may hold the same tags as the film, even pixels; none of them is the film's.
    [Fact]
    public void What_stands_inside_a_sequence_is_not_the_film_s()
    {
        byte[] inside = [.. DicomFile.Number(0x00280010, 7), .. DicomFile.Element(0x7FE00010, "OB", [1, 2])];
        byte[] ended = [.. DicomFile.Bare(0xFFFEE000, uint.MaxValue), .. inside, .. DicomFile.Bare(0xFFFEE00D, 0)];
        byte[] nested = [.. ended, .. DicomFile.Bare(0xFFFEE000, (uint)inside.Length), .. inside];
        byte[] endless = [8, 0, 0x40, 0x11, (byte)'S', (byte)'Q', 0, 0, 255, 255, 255, 255, .. nested, .. DicomFile.Bare(0xFFFEE0DD, 0)];

        var film = Film(DicomFile.Join([endless, .. DicomFile.Elements()]));

        Assert.Equal((64, 64), (film.Width, film.Height));
        Assert.Empty(film.Notices);
    }

    [Fact]
    public void Reads_and_says_numbers_with_a_point_on_a_machine_that_writes_commas()
    {
        var before = CultureInfo.CurrentCulture;
        var commas = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        commas.NumberFormat.NumberDecimalSeparator = ",";
        commas.NumberFormat.NumberGroupSeparator = ".";
        try
        {
            CultureInfo.CurrentCulture = commas;
            var film = Film(DicomFile.Sound(DicomFile.Text(0x00181164, "DS", "0.03\\0.025")));

            Assert.Equal(0.025, film.Spacing!.Value.PixelWidth.Value);
            Assert.Equal(["The file says that its pixels are not square (0.025 × 0.03 mm)."], film.Notices);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    // The notices and refusals are shown and stored; no text of a file's personal elements may get into them.
    [Fact]
    public void Nothing_personal_leaves_the_reader()
    {
        byte[][] personal =
        [
            DicomFile.Text(0x00080080, "LO", "Invented Clinic"), DicomFile.Text(0x00100010, "PN", "Invented^Name"),
            DicomFile.Text(0x00100020, "LO", "INVENTED-1"), DicomFile.Text(0x00100030, "DA", "19010203"),
        ];
        var film = Film(DicomFile.Join([.. personal, .. DicomFile.Elements(DicomFile.Text(0x00181164, "DS", "0.03\\0.025"))]));
        var refusal = Refused(DicomFile.Join([.. personal, .. DicomFile.Elements(DicomFile.Text(0x00280004, "CS", "YBR_PARTIAL_420"))]));

        foreach (var text in new[] { "Invented", "INVENTED", "1901" })
        {
            Assert.DoesNotContain(text, string.Join(' ', [.. film.Notices, refusal.Reason, refusal.Remedy]), StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("1.2.840.10008.1.2.4.80", "the encoding “JPEG-LS lossless” (transfer syntax 1.2.840.10008.1.2.4.80)")]
    [InlineData("1.2.840.10008.1.2.4.90", "the encoding “JPEG 2000 lossless” (transfer syntax 1.2.840.10008.1.2.4.90)")]
    [InlineData("1.2.840.10008.1.2.4.94", "the encoding “JPEG 2000 fetched from elsewhere (JPIP)” (transfer syntax 1.2.840.10008.1.2.4.94)")]
    [InlineData("1.2.3.4", "an encoding that is not known (transfer syntax 1.2.3.4)")]
    [InlineData("Invented^Name 1.2", "an encoding that is not known (transfer syntax 1.2)")]
    public void Refuses_other_encodings_by_name(string syntax, string kind) =>
        Refuses(
            DicomFile.Join(DicomFile.Elements(), syntax),
            "unsupported_film",
            $"This DICOM file uses {kind}, which is not read here.",
            "Export the film again without compression (explicit VR little endian) or with JPEG lossless, or as a grey PNG or TIFF.");

    [Theory]
    [InlineData("packed.dcm", 4095, LossyCompression)]
    [InlineData("baseline-rgb.dcm", 255, LossyCompression, ColourToGrey)]
    [InlineData("lossless.dcm", 65535)]
    [InlineData("runs.dcm", 4095)]
    [InlineData("runs-rgb.dcm", 255, ColourToGrey)]
    [InlineData("big-endian.dcm", 4095)]
    [InlineData("deflated.dcm", 4095)]
    public void Reads_packed_films_and_says_which_lost_something(string name, int greatest, params string[] notices)
    {
        var film = Film(Seed(name));

        Assert.Equal((70, 66, greatest), (film.Width, film.Height, film.GreatestValue));
        Assert.Equal(notices, film.Notices);
    }

    [Fact]
    public void Takes_scale_and_window_from_a_packed_or_big_endian_file_too()
    {
        var plain = Film(Seed("explicit12.dcm"));
        foreach (var name in new[] { "runs.dcm", "big-endian.dcm", "deflated.dcm" })
        {
            var film = Film(Seed(name));

            Assert.Equal(plain.Pixels.ToArray(), film.Pixels.ToArray());
            Assert.Equal((plain.Spacing, plain.ShownWindow), (film.Spacing, film.ShownWindow));
        }
    }

    // PS3.5, A.4: an end mark follows the last piece. Its loss, or that of a padding byte, costs no pixel.
    [Fact]
    public void Reads_a_film_that_ends_behind_its_picture_with_a_notice()
    {
        const string cutOff = "The DICOM file ends a little before it should; its picture is complete.";
        var padded = DicomFile.Sound(DicomFile.Element(0x7FE00010, "OW", [.. Seed("explicit12.dcm")[^8192..], 0, 0]));

        Assert.Equal([cutOff], Film(Seed("runs.dcm")[..^8]).Notices);
        Assert.Equal([cutOff], Film(padded[..^1]).Notices);
        Assert.Empty(Film(padded).Notices);
    }

    [Fact]
    public void Reads_a_frame_that_comes_in_several_pieces_with_or_without_a_table()
    {
        var frame = FrameOf(Seed("runs.dcm"));
        byte[][] pieces = [frame[..1000], frame[1000..1002], frame[1002..]];

        Assert.Equal(Film(Seed("runs.dcm")).Pixels.ToArray(), Film(InPieces([], pieces)).Pixels.ToArray());
        Assert.Equal(Film(Seed("runs.dcm")).Pixels.ToArray(), Film(InPieces(new byte[4], pieces)).Pixels.ToArray());
        Refuses(
            InPieces(new byte[12], pieces),
            "several_frames",
            "This DICOM file holds 3 pictures (frames); a film is one picture.",
            "Export the one picture you need as a file of its own.");
    }

    [Fact]
    public void Refuses_damaged_packed_films()
    {
        var frame = FrameOf(Seed("runs.dcm"));
        RefusesAsDamaged(Seed("runs.dcm")[..^9], "DICOM", "piece 1 of its packed picture reaches beyond the end of the file or is none");
        RefusesAsDamaged(InPieces([], []), "DICOM", "its packed picture is missing");
        RefusesAsDamaged(InPieces([], [[3, .. frame[1..]]]), "DICOM", "its packed picture does not have the 2 parts that it needs");
        RefusesAsDamaged(InPieces([], [frame[..64]]), "DICOM", "it states 70 × 66 pixels, which its 64 bytes of picture can't hold");
        RefusesAsDamaged(InPieces([], [frame[..600]]), "DICOM", "part 1 of 2 of its packed picture can't be unpacked");
        RefusesAsDamaged(InPieces([], [frame[..^20]]), "DICOM", "part 2 of 2 of its packed picture can't be unpacked");
        RefusesAsDamaged(InPieces([], [[.. frame[..4], 63, .. frame[5..]]]), "DICOM", "part 1 of 2 of its packed picture can't be unpacked");
        RefusesAsDamaged(DicomFile.Join(DicomFile.Elements(), "1.2.840.10008.1.2.5"), "DICOM", "its picture does not come in the pieces that its encoding needs");

        // RFC 1951, 3.2.3: a block of kind 3 does not exist.
        RefusesAsDamaged(DicomFile.Join([[0xFF, 0xFF, 0xFF, 0xFF]], "1.2.840.10008.1.2.1.99"), "DICOM", "its deflated part can't be unpacked");
    }

    [Fact]
    public void Refuses_a_damaged_JPEG_picture_inside_as_that_of_a_DICOM_file()
    {
        var file = Seed("lossless.dcm");
        Refuses(
            [.. file[..^40], .. new byte[32], .. file[^8..]],
            "damaged_film",
            $"The JPEG picture in this DICOM file is damaged or incomplete: it ends after {FrameOf(file).Length} bytes without its end mark.",
            ExportAgain);

        var rows = file.AsSpan().IndexOf((ReadOnlySpan<byte>)[0x28, 0, 0x10, 0, (byte)'U', (byte)'S']);
        file[rows + 8] = 67;
        RefusesAsDamaged(file, "DICOM", "it states 70 × 67 pixels of 1 × 16 bits, and its JPEG picture has 70 × 66 of 1 × 16");
    }

    [Fact]
    public void Refuses_other_kinds_of_pixels_by_name()
    {
        RefusesByName(DicomFile.Sound(DicomFile.Text(0x00280004, "CS", "YBR_PARTIAL_420")), "DICOM", "the colour kind “YBR_PARTIAL_420”");
        RefusesByName(
            DicomFile.Join(DicomFile.Elements(DicomFile.Text(0x00280004, "CS", "YBR_FULL_422"), DicomFile.Number(0x00280002, 3)), "1.2.840.10008.1.2.5"),
            "DICOM",
            "the colour kind “YBR_FULL_422” packed in runs");
        RefusesByName(DicomFile.Sound(DicomFile.Number(0x00280100, 32)), "DICOM", "32 bits per value");
        RefusesByName(DicomFile.Join([.. DicomFile.Elements().SkipLast(1), DicomFile.Element(0x7FE00008, "OW", new byte[8])]), "DICOM", "floating-point pixels");
        RefusesByName(
            [.. DicomFile.Join([.. DicomFile.Elements().SkipLast(1)]), 0xE0, 0x7F, 0x10, 0, (byte)'O', (byte)'B', 0, 0, 255, 255, 255, 255],
            "DICOM",
            "compressed pixels without saying how they were compressed");
    }

    [Fact]
    public void Refuses_several_frames() =>
        Refuses(
            DicomFile.Sound(DicomFile.Text(0x00280008, "IS", "12")),
            "several_frames",
            "This DICOM file holds 12 pictures (frames); a film is one picture.",
            "Export the one picture you need as a file of its own.");

    [Fact]
    public void Refuses_files_without_a_picture()
    {
        Refuses(
            DicomFile.Without(0x7FE00010),
            "no_picture",
            "This DICOM file holds no picture.",
            "Choose the file of the film itself; reports, settings and documents are DICOM files too.");
        Refuses(
            [.. new byte[128], .. "DICM"u8, .. DicomFile.Text(0x00020002, "UI", "1.2.840.10008.1.3.10"), .. DicomFile.Text(0x00020010, "UI", DicomFile.Explicit)],
            "no_picture",
            "This DICOM file is the index of a disc or folder (DICOMDIR) and holds no picture.",
            "Choose the film files that it lists; they stand in the folders beside it.");
    }

    [Fact]
    public void Refuses_damaged_files()
    {
        RefusesAsDamaged(DicomFile.Sound()[..^2], "DICOM", "its 64 × 64 pixels need 8192 bytes and it holds 8190");
        RefusesAsDamaged(DicomFile.Without(0x00280010), "DICOM", "its rows, columns or bits are missing");
        RefusesAsDamaged(DicomFile.Sound(DicomFile.Number(0x00280002, 3)), "DICOM", "it states 3 values for each pixel of kind MONOCHROME2");
        RefusesAsDamaged(DicomFile.Sound(DicomFile.Number(0x00280101, 17)), "DICOM", "17 bits up to bit 11 do not fit into 16");
        RefusesAsDamaged(DicomFile.Sound(DicomFile.Number(0x00280010, 0)), "DICOM", "it states a picture of 64 × 0 pixels");
        RefusesAsDamaged(
            DicomFile.Join([DicomFile.Element(0x00080070, "LO", Encoding.ASCII.GetBytes(new string('A', 40)))])[..^4],
            "DICOM",
            "its element (0008,0070) at byte 168 reaches beyond the end of the file");
    }

    [Fact]
    public void Refuses_sequences_without_end()
    {
        byte[] begins = [8, 0, 0x40, 0x11, (byte)'S', (byte)'Q', 0, 0, 255, 255, 255, 255];
        byte[] deeper = [.. Enumerable.Repeat<byte[]>([.. DicomFile.Bare(0xFFFEE000, uint.MaxValue), .. begins], 100_000).SelectMany(part => part)];

        RefusesAsDamaged(DicomFile.Join([begins]), "DICOM", "its element (0008,1140) at byte 172 reaches beyond the end of the file");
        Assert.Equal("damaged_film", Refused(DicomFile.Join([begins, deeper])).Code);
    }

    private static byte[] Table(uint tag, ushort first, byte bits, ushort[] outputs) => DicomFile.Sequence(
        tag,
        [
            .. DicomFile.Element(0x00283002, "US", [(byte)outputs.Length, 0, (byte)first, (byte)(first >> 8), bits, 0]),
            .. DicomFile.Element(0x00283006, "OW", [.. outputs.SelectMany(value => new[] { (byte)value, (byte)(value >> 8) })]),
        ]);

    private static byte[] WithPalette(byte bits, byte[] red, byte[] green, byte[] blue) => DicomFile.Sound(PaletteElements(bits, red, green, blue));

    // Of entries of one byte; the first is for the number 10.
    private static byte[][] PaletteElements(byte bits, byte[] red, byte[] green, byte[] blue)
    {
        var count = (byte)Math.Max(red.Length, green.Length);
        byte[] Even(byte[] entries) => entries.Length % 2 == 0 ? entries : [.. entries, 0];
        return
        [
            DicomFile.Element(0x00281101, "US", [count, 0, 10, 0, bits, 0]),
            DicomFile.Element(0x00281102, "US", [count, 0, 10, 0, bits, 0]),
            DicomFile.Element(0x00281103, "US", [count, 0, 10, 0, bits, 0]),
            DicomFile.Element(0x00281201, "OW", Even(red)),
            DicomFile.Element(0x00281202, "OW", Even(green)),
            DicomFile.Element(0x00281203, "OW", Even(blue)),
            DicomFile.Text(0x00280004, "CS", "PALETTE COLOR"),
        ];
    }

    private static IEnumerable<int> Shades(Radiograph film, params int[] values) => values.Select(value => (int)film.ShownCurve!.Shades.Span[value]);

    private static int PiecesAt(byte[] file) => file.AsSpan().IndexOf((ReadOnlySpan<byte>)[0xE0, 0x7F, 0x10, 0, (byte)'O', (byte)'B', 0, 0, 255, 255, 255, 255]) + 12;

    // The first piece behind the table of offsets.
    private static byte[] FrameOf(byte[] file)
    {
        var piece = PiecesAt(file) + 8 + BitConverter.ToInt32(file, PiecesAt(file) + 4);
        return file[(piece + 8)..(piece + 8 + BitConverter.ToInt32(file, piece + 4))];
    }

    private static byte[] InPieces(byte[] table, byte[][] pieces)
    {
        var file = Seed("runs.dcm");
        byte[][] items = [table, .. pieces];
        return
        [
            .. file[..PiecesAt(file)],
            .. items.SelectMany(item => DicomFile.Bare(0xFFFEE000, (uint)item.Length, item)),
            .. DicomFile.Bare(0xFFFEE0DD, 0),
        ];
    }

    private static string Written(double number) => number.ToString("0.######", CultureInfo.InvariantCulture);
}
