using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Job;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>Turns the files that a command was given into films and cases.</summary>
internal static class GivenFiles
{
    /// <summary>Reads a film.</summary>
    /// <param name="path">Its path.</param>
    /// <returns>The film; or why it can't be read.</returns>
    public static Answer<Radiograph> Film(string path) =>
        CommandFiles.Read(path, CommandFiles.LargestFilmBytes).TryGet(out var bytes, out var refusal) ? OpenFilm.Open(bytes) : refusal;

    /// <summary>Reads a case file.</summary>
    /// <param name="path">Its path.</param>
    /// <returns>The case; or the first thing wrong with it.</returns>
    public static Answer<MarkedCase> Case(string path) =>
        CommandFiles.Read(path, CaseReader.LargestBytes).TryGet(out var bytes, out var refusal) ? CaseReader.Read(bytes) : refusal;
}
