using Secondpass.Domain.Films;
using Secondpass.Radiographs.Trace;

namespace Secondpass.Tests.Radiographs.Trace;

public sealed class KeptGreysTests
{
    private static readonly Radiograph Film = new(3, 1, new ushort[] { 0, 1000, 4095 }, 4095, FilmFormat.Simulated, new string('0', 64));

    [Fact]
    public void Makes_the_greys_of_a_film_once_while_they_are_in_use()
    {
        var first = KeptGreys.Of(Film).With(isBright: true);

        Assert.Same(first, KeptGreys.Of(Film).With(isBright: true));
        Assert.Equal([0f, 1000f, 4095f], first.Values);
    }

    [Fact]
    public void Shows_fillings_of_an_inverted_film_brighter_than_dentine() =>
        Assert.Equal([4095f, 3095f, 0f], KeptGreys.Of(Film).With(isBright: false).Values);
}
