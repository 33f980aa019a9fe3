using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read;

namespace Secondpass.Job;

/// <summary>First stage without a store: a file becomes a film for as long as the program runs, and nothing is kept.</summary>
/// <remarks>Not <see cref="ReceiveFilm"/>, which keeps the bytes: a command reads the user's own file and leaves it where it is.</remarks>
public static class OpenFilm
{
    /// <summary>Reads a film.</summary>
    /// <param name="bytes">The bytes of its file, whatever its name.</param>
    /// <returns>The film; or a refusal: not a film, damaged, too large.</returns>
    public static Answer<Radiograph> Open(ReadOnlyMemory<byte> bytes) => FilmReader.Read(bytes);
}
