using Secondpass.Domain.Films;

namespace Secondpass.Outside.Readers;

public sealed class TiffAgainstOthersTests
{
    // Writers and decoders: Pillow and OpenCV (libtiff), tifffile (its own code).
    [Fact]
    public void Reads_every_TIFF_film_bit_for_bit_as_Pillow_OpenCV_and_tifffile_do() =>
        Assert.Equal((90, 8), ForeignFilms.Check("films_tiff.py", FilmFormat.Tiff));
}
