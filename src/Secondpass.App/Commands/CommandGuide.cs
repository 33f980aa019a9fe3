using System.Globalization;
using System.Text;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>The command-line page of the guide, made from the verbs' definitions.</summary>
internal static class CommandGuide
{
    /// <summary>The page.</summary>
    /// <param name="verbs">All verbs.</param>
    public static string Markdown(IReadOnlyList<Verb> verbs)
    {
        var text = new StringBuilder()
            .AppendLine("# The command line")
            .AppendLine()
            .AppendLine("Made from the program by `./secondpass describe guide`; a test keeps the two alike and runs every example.")
            .AppendLine()
            .AppendLine("`./secondpass` without a verb serves the workbench. With a verb it answers and ends:")
            .AppendLine()
            .AppendLine("| verb | does |")
            .AppendLine("| --- | --- |");
        foreach (var verb in verbs)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"| [`{verb.Name}`](#{verb.Name}) | {verb.Summary} |");
        }

        text.AppendLine()
            .AppendLine("Numbers have a point, whatever the machine's language. Text is UTF-8. Nothing is sent anywhere, and no film is changed.")
            .AppendLine()
            .AppendLine("| exit code | means |")
            .AppendLine("| --- | --- |");
        foreach (var (code, means) in ExitCodes.All)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"| {(int)code} | {means} |");
        }

        text.AppendLine()
            .AppendLine(CultureInfo.InvariantCulture, $"A failure shows one line; with the environment variable `{Application.DetailsVariable}=1` it shows what a report needs.");
        foreach (var verb in verbs)
        {
            Section(text, verb);
        }

        return text.AppendLine().Append(CaseFile).ToString().ReplaceLineEndings("\n");
    }

    private static void Section(StringBuilder text, Verb verb)
    {
        text.AppendLine()
            .AppendLine(CultureInfo.InvariantCulture, $"## {verb.Name}")
            .AppendLine()
            .AppendLine("```text")
            .AppendLine(verb.Usage)
            .AppendLine("```")
            .AppendLine()
            .AppendLine(verb.Details);
        if (verb.Words.Count + verb.Options.Count > 0)
        {
            text.AppendLine().AppendLine("| option | means |").AppendLine("| --- | --- |");
            foreach (var (name, means, isRequired) in verb.Words
                .Select(word => (word.Name, word.Means, word.IsRequired))
                .Concat(verb.Options.Select(option => (option.Usage, option.Means, option.IsRequired))))
            {
                text.AppendLine(CultureInfo.InvariantCulture, $"| `{name}` | {means}{(isRequired ? " Required." : string.Empty)} |");
            }
        }

        if (verb.Document is { } document)
        {
            var name = DocumentSchema.NameOf(document);
            text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"With `--json` it answers [`{name}`](../schema/{name}.schema.json).");
        }

        foreach (var example in verb.Examples)
        {
            text.AppendLine()
                .AppendLine(example.Shows)
                .AppendLine()
                .AppendLine("```console")
                .AppendLine(CultureInfo.InvariantCulture, $"$ ./secondpass {example.Call}")
                .AppendLine("```");
        }
    }

    private const string CaseFile = """
        ## The case file

        `measure`, `compare` and `plan` start from the films and from a case file: which tooth it is, how large a pixel is, and a few marks
        on each canal, in pixels of the film before. (0, 0) is the centre of the top left pixel, x runs right, y runs down.
        A canal is a tree: branches start at a point of their trunk. Its shape is [`case`](../schema/case.schema.json);
        what isn't understood is refused with line and column.

        ```json
        {
          "schema": 1,
          "tooth": "16",
          "pixel_spacing_mm": 0.03,
          "after_spacing_mm": null,
          "after_state": "removed",
          "canals": [
            { "name": "MB1", "trace_px": [[310, 420], [300, 980]], "pin": "soft",
              "branches": [ { "name": "MB2", "trace_px": [[306, 640], [340, 960]] } ] },
            { "name": "P", "trace_px": [[420, 400], [430, 1010]] }
          ]
        }
        ```

        For `plan` it may say more, all of it optional: what the canals were filled with, crown, core and post, and for each canal its
        lengths as read, obstacles, where it joins another, walls read on a cone-beam scan, widths as `measure` answers them, the
        dentist's own stop and the planned final size. `clinic` holds own kinds of instruments, instruments in stock with their uses,
        the ultrasonic unit, own sequences, the solvent and limits.

        ```json
        {
          "schema": 1,
          "tooth": "16",
          "filling": "gutta_percha",
          "crown": "metal-ceramic crown",
          "canals": [
            { "name": "MB1", "root": "MB", "trace_px": [[310, 420], [300, 980]], "fill_end_mm": 1.2,
              "lengths": [
                { "from": "mesiobuccal cusp", "to": "radiographic_apex", "mm": 20.5, "source": "film" },
                { "from": "mesiobuccal cusp", "to": "file_stop", "mm": 18.0, "source": "instrument_stop" }
              ],
              "obstacles": ["ledge"],
              "walls": [{ "from_end_mm": 8, "side": "distal", "mm": 1.2 }],
              "no_deeper_than_mm": 18.5, "final_size": 35, "final_taper": 0.04 },
            { "name": "DB", "trace_px": [[420, 400], [430, 1010]], "intent": "leave_alone" }
          ],
          "clinic": {
            "items": [{ "id": "A3", "kind": "retreatment-30-06", "position": "kit A, 3", "uses": 2 }],
            "ultrasonic_unit": { "name": "Surgery 1", "thread": "M3 × 0.5", "chuck": "file chuck" },
            "sequences": [{ "name": "Gentle", "steps": [{ "kind": "ultrasonic-25" }, { "kind": "retreatment-30-04", "rpm": 300, "torque_ncm": 1 }] }]
          }
        }
        ```

        ## How numbers are written

        Millimetres to 0.001, square millimetres to 0.0001, degrees and percent to 0.01, pixels to 0.001, shares to 0.0001, halves
        away from zero: finer than a film can tell.
        Volumes to 0.0001 mm³. Intervals are 95 % intervals. Nothing is clipped: a share of what is left may lie
        a little below 0 or above 100, because it is an estimate. A value that is not known is `null`, never 0. Lengths and angles are
        those of the projection on the film: curvature towards or away from it is hidden.

        """;
}
