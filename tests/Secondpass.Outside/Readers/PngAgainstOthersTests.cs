using Secondpass.Domain.Films;

namespace Secondpass.Outside.Readers;

public sealed class PngAgainstOthersTests
{
    // Writers: Pillow, OpenCV, and zlib with the block layout of ISO/IEC 15948 for what neither writes. Decoder: libpng under both.
    [Fact]
    public void Reads_every_PNG_film_bit_for_bit_as_Pillow_and_OpenCV_do() =>
        Assert.Equal((24, 0), ForeignFilms.Check("films_png.py", FilmFormat.Png));
}
