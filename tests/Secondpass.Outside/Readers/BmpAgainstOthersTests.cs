using Secondpass.Domain.Films;

namespace Secondpass.Outside.Readers;

public sealed class BmpAgainstOthersTests
{
    // Writers: Pillow, OpenCV, and the headers of the Windows documentation for what neither writes. Decoders: Pillow and OpenCV.
    [Fact]
    public void Reads_every_BMP_film_bit_for_bit_as_Pillow_and_OpenCV_do() =>
        Assert.Equal((49, 3), ForeignFilms.Check("films_bmp.py", FilmFormat.Bmp));
}
