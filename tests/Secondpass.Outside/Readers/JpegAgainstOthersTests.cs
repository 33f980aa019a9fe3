using Secondpass.Domain.Films;

namespace Secondpass.Outside.Readers;

public sealed class JpegAgainstOthersTests
{
    // Writers and decoders: OpenCV and Pillow (libjpeg-turbo), dcmtk (the Independent JPEG Group's library at 8 and 12 bits).
    // Only true colour in smaller colour channels has a tolerance: the reference smooths them between pixels, which T.81 leaves open.
    [Fact]
    public void Reads_every_JPEG_film_bit_for_bit_as_OpenCV_Pillow_and_dcmtk_do() =>
        Assert.Equal((57, 2), ForeignFilms.Check("films_jpeg.py", FilmFormat.Jpeg));
}
