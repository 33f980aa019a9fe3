using System.Globalization;
using System.Text;

namespace Secondpass.Records.Keys;

/// <summary>The sheet that a clinic prints and keeps apart from the computer.</summary>
internal static class RecoverySheet
{
    /// <summary>Its text: what it is for, and the key in numbered groups.</summary>
    public static string Text(ClinicKey key)
    {
        var text = new StringBuilder(
            """
            Secondpass recovery sheet

            These groups are the clinic key. Whoever has them and a copy of the data can read every case;
            without them and without the file clinic.key nobody can, and nobody can restore them for you.
            Print this sheet, keep it locked away and apart from the computer, and keep no photograph of it.
            To use it, type the groups into a text file and run: secondpass key --restore FILE
            The letters I, L, O and U do not occur. The last character of each group checks it.


            """);
        foreach (var (place, group) in key.Groups.Index())
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"{place + 1,4}: {group}");
        }

        return text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"Fingerprint of this key: {key.Fingerprint}").ToString().ReplaceLineEndings("\n");
    }
}
