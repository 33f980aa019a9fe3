using System.Globalization;
using Secondpass.Domain.Anatomy;

namespace Secondpass.Radiographs.Identify;

/// <summary>The codes by which DICOM files name teeth.</summary>
/// <remarks>
/// Source: DICOM PS3.16, CID 4018 (permanent, version 20220922) and CID 4019 (deciduous, version 20230119), which list each tooth with
/// its ISO 3950 designation and its SNOMED CT code; CID 4018 replaced some codes in 2022, so the earlier ones (as in the 2019 edition)
/// stand beside them. The older SNOMED-RT codes follow the same order: T-54210 to T-54520 for permanent teeth, T-54610 to T-54800 for
/// deciduous ones, with T-54611, 54621, 54641, 54741 and 54781 for five of these in between. PS3.3, C.8.11.9.1.1 says that the groups
/// correspond to ISO 3950; two digits under a scheme of that number are read as they are.
/// </remarks>
internal static class CodedTeeth
{
    // Tooth, code of today, code of before where it differs; in the order of the SNOMED-RT codes.
    private static readonly (int Tooth, string Code, string? Earlier)[] Permanent =
    [
        (18, "68085002", null), (17, "863902006", "7121006"), (16, "865995000", "5140004"), (15, "36492000", null),
        (14, "57826002", null), (13, "860767006", "80647007"), (12, "424877001", "11712009"), (11, "422653006", "22120004"),
        (21, "424399000", "31982000"), (22, "423185002", "25748002"), (23, "860780009", "72876007"), (24, "61897005", null),
        (25, "23226009", null), (26, "865988009", "23427002"), (27, "863901004", "66303006"), (28, "87704003", null),
        (38, "74344005", null), (37, "863898000", "48402004"), (36, "866006002", "89625000"), (35, "24573005", null),
        (34, "2400006", null), (33, "860782001", "39844006"), (32, "423331005", "77130001"), (31, "425106001", "113278005"),
        (41, "424575004", "15422005"), (42, "423937004", "82628004"), (43, "860785004", "47055002"), (44, "80140008", null),
        (45, "8873007", null), (46, "866005003", "28480000"), (47, "863899008", "40005008"), (48, "38994002", null),
    ];

    private static readonly (int Tooth, string Code, string? Earlier)[] Deciduous =
    [
        (51, "88824007", "245620002"), (52, "65624003", "245619008"), (53, "30618001", null), (54, "17505006", "245616001"),
        (55, "27855007", null), (61, "51678005", null), (62, "43622005", null), (63, "73937000", null),
        (64, "45234009", null), (65, "51943008", null), (81, "67834006", null), (82, "22445006", null),
        (83, "6062009", null), (84, "58646007", "245631005"), (85, "61868007", null), (71, "89552004", null),
        (72, "14770005", null), (73, "43281008", "245639007"), (74, "38896004", null), (75, "49330006", null),
    ];

    private const int FirstPermanent = 54210, FirstDeciduous = 54610, Step = 10;

    private static readonly Dictionary<string, int> Teeth = Collect();

    /// <summary>The tooth that a code names, or null when it names none that is known.</summary>
    /// <param name="scheme">The coding scheme, such as "SCT", "SRT" or "SNM3" for SNOMED, or one with 3950 in it.</param>
    /// <param name="code">The code value.</param>
    public static ToothNumber? Find(string? scheme, string? code)
    {
        if (scheme is null || code is null)
        {
            return null;
        }

        var number = scheme is "SCT" or "SRT" or "SNM3" or "99SDM"
            ? Teeth.TryGetValue(code, out var known) ? known.ToString(CultureInfo.InvariantCulture) : null
            : scheme.Contains("3950", StringComparison.Ordinal) ? code : null;
        return number is not null && ToothNumber.Parse(number).TryGet(out var tooth, out _) ? tooth : null;
    }

    private static Dictionary<string, int> Collect()
    {
        var teeth = new Dictionary<string, int>();
        foreach (var (group, first) in new[] { (Permanent, FirstPermanent), (Deciduous, FirstDeciduous) })
        {
            for (var i = 0; i < group.Length; i++)
            {
                var (tooth, code, earlier) = group[i];
                teeth.Add(code, tooth);
                teeth.Add(string.Create(CultureInfo.InvariantCulture, $"T-{first + (Step * i)}"), tooth);
                if (earlier is null)
                {
                    continue;
                }

                teeth.Add(earlier, tooth);

                // The codes in between are those of these five deciduous teeth alone.
                if (group == Deciduous)
                {
                    teeth.Add(string.Create(CultureInfo.InvariantCulture, $"T-{first + (Step * i) + 1}"), tooth);
                }
            }
        }

        return teeth;
    }
}
