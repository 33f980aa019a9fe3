using Secondpass.Domain.Films;
using Secondpass.Job.Documents;
using Secondpass.Radiographs.Read;

namespace Secondpass.Tests.Job;

/// <summary>The files of an invented case.</summary>
internal static class DemoFilm
{
    public const string Incisor = "upper-incisor-none-visible";

    public const string Molar = "upper-molar-missed-canal";

    public const string SplitMolar = "lower-molar-split-distal-canal";

    public static byte[] Before(string name) => File.ReadAllBytes(Repository.At("demo", name, "before.png"));

    public static byte[] After(string name) => File.ReadAllBytes(Repository.At("demo", name, "after.png"));

    public static Radiograph Read(byte[] bytes) => FilmReader.Read(bytes).Value;

    public static string CaseText(string name) => Repository.Text("demo", name, "case.json");

    public static MarkedCase Case(string name) => CaseReader.Read(File.ReadAllBytes(Repository.At("demo", name, "case.json"))).Value;
}
