using System.Buffers.Binary;
using System.Text.Json;
using Secondpass.Domain.Films;
using Secondpass.Radiographs.Read;

namespace Secondpass.Outside.Readers;

/// <summary>A file that somebody else's software wrote and read back.</summary>
/// <param name="File">Its name.</param>
/// <param name="Grey">The file of its values as the foreign decoder gives them; null when it is to be refused.</param>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="Greatest">The greatest value of its depth.</param>
/// <param name="Decoder">Who read it back.</param>
/// <param name="Tolerance">The greatest difference of a value that is allowed.</param>
/// <param name="Spacing">The pixel size that it states, in mm; null for none, or not looked at.</param>
/// <param name="Meaning">What that size refers to; null for not looked at.</param>
/// <param name="Shown">The file of bytes, from black 0 to white 255, as which a foreign program shows it; null for none.</param>
/// <param name="Reason">The whole reason of its refusal.</param>
/// <param name="Subject">Name, number, birth date, day and teeth that it states, with bars between; null for not looked at.</param>
internal sealed record ForeignFile(
    string File,
    string? Grey,
    int Width,
    int Height,
    int Greatest,
    string Decoder,
    int Tolerance,
    double? Spacing,
    string? Meaning,
    string? Shown,
    string? Reason,
    string? Subject);

/// <summary>Has a script write films and compares how we read them with how others do.</summary>
internal static class ForeignFilms
{
    private static readonly JsonSerializerOptions Names = new(JsonSerializerDefaults.Web);

    /// <summary>Runs a script in a folder of its own and checks every file that it wrote; all faults are reported together.</summary>
    /// <param name="script">The script's name.</param>
    /// <param name="format">The format that all its files have.</param>
    /// <param name="alsoCheck">What else is to hold of a film, given its folder; says what does not, or null.</param>
    /// <returns>How many films were equal, and how many were refused as they should be.</returns>
    public static (int Equal, int Refused) Check(string script, FilmFormat format, Func<string, ForeignFile, Radiograph, string?>? alsoCheck = null)
    {
        var folder = Directory.CreateTempSubdirectory("secondpass-films-");
        try
        {
            var files = JsonSerializer.Deserialize<List<ForeignFile>>(PythonRunner.Run(script, folder.FullName), Names)!;
            var faults = new List<string>();
            var (equal, refused) = (0, 0);
            foreach (var file in files)
            {
                var answer = FilmReader.Read(System.IO.File.ReadAllBytes(Path.Combine(folder.FullName, file.File)));
                if (file.Grey is null)
                {
                    refused++;
                    AddWhen(faults, file, answer.IsGiven ? "was read" : answer.Refusal.Reason == file.Reason ? null : "was refused: " + answer.Refusal.Reason);
                }
                else if (!answer.TryGet(out var film, out var refusal))
                {
                    faults.Add($"{file.File}: was refused: {refusal.Reason}");
                }
                else
                {
                    equal++;
                    AddWhen(faults, file, film.Format == format ? null : $"is {film.Format}");
                    AddWhen(faults, file, Difference(folder.FullName, file, film));
                    AddWhen(faults, file, alsoCheck?.Invoke(folder.FullName, file, film));
                }
            }

            Assert.True(faults.Count == 0, string.Join('\n', faults));
            return (equal, refused);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static void AddWhen(List<string> faults, ForeignFile file, string? fault)
    {
        if (fault is not null)
        {
            faults.Add($"{file.File} (read by {file.Decoder}): {fault}");
        }
    }

    private static string? Difference(string folder, ForeignFile file, Radiograph film)
    {
        if (film.Width != file.Width || film.Height != file.Height || film.GreatestValue != file.Greatest)
        {
            return string.Create(CultureInfo.InvariantCulture, $"{film.Width} × {film.Height} to {film.GreatestValue}, not {file.Width} × {file.Height} to {file.Greatest}");
        }

        if (file.Spacing is { } spacing
            && (film.Spacing is not { } stated || Math.Abs((stated.PixelWidth.Value / spacing) - 1) > 1e-4 || Math.Abs((stated.PixelHeight.Value / spacing) - 1) > 1e-4))
        {
            return string.Create(CultureInfo.InvariantCulture, $"states {film.Spacing?.PixelWidth} and not {spacing} mm");
        }

        var expected = System.IO.File.ReadAllBytes(Path.Combine(folder, file.Grey!)).AsSpan();
        var (different, greatest) = (0, 0);
        for (var i = 0; i < film.Pixels.Length; i++)
        {
            var difference = Math.Abs(film.Pixels[i] - BinaryPrimitives.ReadUInt16LittleEndian(expected[(2 * i)..]));
            different += difference > 0 ? 1 : 0;
            greatest = Math.Max(greatest, difference);
        }

        return greatest > file.Tolerance
            ? string.Create(CultureInfo.InvariantCulture, $"{different} of {film.Pixels.Length} values differ, by up to {greatest} (allowed {file.Tolerance})")
            : null;
    }
}
