using CsCheck;
using Secondpass.Domain.Films;
using Secondpass.Domain.Quantities;
using Secondpass.Radiographs.Calibrate;

namespace Secondpass.Tests.Radiographs.Calibrate;

public sealed class FilmScaleTests
{
    private const string NoScale =
        "There is no scale: results are in percent only. Enter the size of a pixel, or mark an object of known length on the film.";

    [Fact]
    public void Without_any_scale_there_are_percentages_only()
    {
        var chosen = FilmScale.Choose(Film(null), null).Value;

        Assert.Null(chosen.Scale);
        Assert.Equal([NoScale], chosen.Notices);
    }

    [Fact]
    public void Takes_the_file_s_scale_where_nothing_was_entered()
    {
        var chosen = FilmScale.Choose(Film(0.03, SpacingMeaning.AtObject), null).Value;

        Assert.Equal((0.03, CalibrationSource.File), (chosen.Scale!.MillimetresPerPixel, chosen.Scale.Source));
        Assert.Empty(chosen.Notices);
    }

    [Fact]
    public void Says_that_a_sensor_s_scale_makes_lengths_read_a_little_long() =>
        Assert.Equal(
            ["The scale of 0.03 mm per pixel is that of the sensor; the tooth in front of it is shown a little larger, so lengths read a little long."],
            FilmScale.Choose(Film(0.03, SpacingMeaning.AtDetector), null).Value.Notices);

    [Fact]
    public void Says_that_a_scale_of_unstated_meaning_is_to_be_checked() =>
        Assert.Equal(
            ["The file states 0.025 mm per pixel without saying what it refers to; check it against an object of known length on the film."],
            FilmScale.Choose(Film(0.025, SpacingMeaning.Unstated, FilmFormat.Png), null).Value.Notices);

    [Theory]
    [InlineData(0.0302, 0)]
    [InlineData(0.0298, 0)]
    [InlineData(0.0304, 1)]
    [InlineData(0.025, 1)]
    public void What_was_entered_beats_the_file_with_a_notice_when_they_differ_by_more_than_one_percent(double stated, int notices)
    {
        var chosen = FilmScale.Choose(Film(stated, SpacingMeaning.AtDetector), 0.03).Value;

        Assert.Equal((0.03, CalibrationSource.Entered), (chosen.Scale!.MillimetresPerPixel, chosen.Scale.Source));
        Assert.Equal(notices, chosen.Notices.Count);
    }

    [Fact]
    public void Quotes_both_scales_when_they_differ() =>
        Assert.Equal(
            ["The entered scale of 0.03 mm per pixel was used; the film's own file states 0.025 mm."],
            FilmScale.Choose(Film(0.025, SpacingMeaning.AtDetector), 0.03).Value.Notices);

    [Theory]
    [InlineData(0, "0 × 0")]
    [InlineData(3, "3 × 3")]
    [InlineData(0.004, "0.004 × 0.004")]
    public void Ignores_a_scale_that_is_no_intra_oral_film_s_with_a_notice(double stated, string quoted)
    {
        var chosen = FilmScale.Choose(Film(stated, SpacingMeaning.AtDetector), null).Value;

        Assert.Null(chosen.Scale);
        Assert.Equal([$"The file states pixels of {quoted} mm, which is not an intra-oral film; its scale was ignored.", NoScale], chosen.Notices);
        Assert.Empty(FilmScale.Choose(Film(stated, SpacingMeaning.AtDetector), 0.03).Value.Notices);
    }

    // 96 and 72 per inch as the three formats write them: pHYs 3780 and 2835 per metre, JFIF and TIFF per inch or centimetre.
    [Theory]
    [InlineData(1000.0 / 3780, FilmFormat.Png, "96", "0.2646")]
    [InlineData(1000.0 / 2835, FilmFormat.Png, "72", "0.3527")]
    [InlineData(25.4 / 96, FilmFormat.Jpeg, "96", "0.2646")]
    [InlineData(10.0 / 38, FilmFormat.Jpeg, "97", "0.2632")]
    [InlineData(10.0 / 28, FilmFormat.Jpeg, "71", "0.3571")]
    [InlineData(25.4 / 72, FilmFormat.Tiff, "72", "0.3528")]
    [InlineData(1000.0 / 3780, FilmFormat.Bmp, "96", "0.2646")]
    [InlineData(25.4 / 144, FilmFormat.Png, "144", "0.1764")]
    public void Ignores_a_screen_s_resolution_with_a_notice(double stated, FilmFormat format, string perInch, string quoted)
    {
        var chosen = FilmScale.Choose(Film(stated, SpacingMeaning.Unstated, format), null).Value;

        Assert.Null(chosen.Scale);
        Assert.Equal(
            [$"The file states {perInch} pixels per inch ({quoted} mm per pixel), which is a screen's setting and not the film's scale; it was ignored.", NoScale],
            chosen.Notices);
    }

    [Fact]
    public void A_scanner_s_resolution_is_no_screen_s() =>
        Assert.Equal(25.4 / 600, FilmScale.Choose(Film(25.4 / 600, SpacingMeaning.Unstated, FilmFormat.Tiff), null).Value.Scale!.MillimetresPerPixel);

    [Theory]
    [InlineData(0, "0")]
    [InlineData(3, "3")]
    [InlineData(-0.03, "-0.03")]
    [InlineData(double.NaN, "NaN")]
    public void Refuses_an_entered_scale_that_is_no_intra_oral_film_s(double entered, string quoted)
    {
        var refusal = FilmScale.Choose(Film(0.03, SpacingMeaning.AtDetector), entered).Refusal;

        Assert.Equal("implausible_pixel_size", refusal.Code);
        Assert.Equal($"A pixel of {quoted} mm is not that of an intra-oral film (0.005 to 0.5 mm).", refusal.Reason);
    }

    [Theory]
    [InlineData(null)]
    [InlineData(0.03)]
    public void Refuses_pixels_that_are_not_square_whatever_was_entered(double? entered)
    {
        var film = Film(new FileSpacing(new Millimetres(0.025), new Millimetres(0.03), SpacingMeaning.AtDetector), FilmFormat.Dicom);

        var refusal = FilmScale.Choose(film, entered).Refusal;

        Assert.Equal("pixels_not_square", refusal.Code);
        Assert.Equal("The file states pixels of 0.025 × 0.03 mm: they are not square, so lengths and angles on this film would be wrong.", refusal.Reason);
        Assert.Equal("Export the film again with square pixels.", refusal.Remedy);
    }

    [Fact]
    public void Pixels_within_one_percent_of_square_have_their_mean_size()
    {
        var film = Film(new FileSpacing(new Millimetres(0.0300), new Millimetres(0.0302), SpacingMeaning.AtObject), FilmFormat.Dicom);

        Assert.Equal(0.0301, FilmScale.Choose(film, null).Value.Scale!.MillimetresPerPixel, 1e-12);
    }

    // Whatever a file states and a person enters: a scale between the limits, or none, or a refusal.
    [Fact]
    public void A_chosen_scale_is_always_plausible() =>
        Gen.Select(Gen.Double[-1, 4], Gen.Double[-1, 4], Gen.Enum<SpacingMeaning>(), Gen.Enum<FilmFormat>(), Gen.Double[-1, 1].Nullable()).Sample(
            (width, height, meaning, format, entered) =>
                !FilmScale.Choose(Film(new FileSpacing(new Millimetres(width), new Millimetres(height), meaning), format), entered).TryGet(out var chosen, out _)
                || chosen.Scale is null or { MillimetresPerPixel: >= Calibration.SmallestMillimetresPerPixel and <= Calibration.LargestMillimetresPerPixel });

    private static Radiograph Film(double millimetres, SpacingMeaning meaning, FilmFormat format = FilmFormat.Dicom) =>
        Film(new FileSpacing(new Millimetres(millimetres), new Millimetres(millimetres), meaning), format);

    private static Radiograph Film(FileSpacing? spacing, FilmFormat format = FilmFormat.Png) =>
        new(2, 1, [0, 255], 255, format, new string('0', 64), spacing);
}
