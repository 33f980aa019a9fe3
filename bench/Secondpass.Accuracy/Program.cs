using Secondpass.Accuracy;
using Secondpass.Domain.Evidence;

// Seeds below 1000 are for tuning; the tables in docs/models/ are scored on seeds from 5000.
const string Usage = """
    Secondpass.Accuracy left [FIRST COUNT]     what is left, against the truth of simulated pairs
    Secondpass.Accuracy second [FIRST COUNT]   the same, on pairs of the second generator: never for tuning
    Secondpass.Accuracy views [FIRST COUNT]    two pairs of one tooth from two angles, alone and together
    Secondpass.Accuracy moved [FIRST COUNT]    filling moved to where none was: false alarms, and which sizes are found
    Secondpass.Accuracy measure [FIRST COUNT]  lengths, widths and angles, against the truth of simulated films
    Secondpass.Accuracy curves [FIRST COUNT]   angles and radii of canals that curve, the same
    Secondpass.Accuracy speed [FIRST]          time of one canal, beside a Gaussian blur of the same film
    Secondpass.Accuracy docs [left|measure]    both on the scoring seeds, or one of them, written into docs/models/
    """;
const int ScoringSeed = 5000;

switch (args)
{
    case ["left", .. var seeds]:
        Console.WriteLine(LeftRun.Over(First(seeds), Count(seeds, 40)));
        return 0;
    case ["second", .. var seeds]:
        Console.WriteLine(LeftRun.Second(First(seeds), Count(seeds, 40)));
        return 0;
    case ["views", .. var seeds]:
        Console.WriteLine(ViewsRun.Over(First(seeds), Count(seeds, 40), TwoViewFacts.CommonDeviation.Value));
        return 0;
    case ["moved", .. var seeds]:
        MovedRun.Write(First(seeds), Count(seeds, 80), Console.Out);
        return 0;
    case ["measure", .. var seeds]:
        Console.WriteLine(MeasureRun.Over(First(seeds), Count(seeds, 40)));
        return 0;
    case ["curves", .. var seeds]:
        Console.WriteLine(CurveRun.Over(First(seeds), Count(seeds, 40), MeasureRun.ClickPixels));
        return 0;
    case ["speed", .. var seeds]:
        Console.WriteLine(SpeedRun.Over(First(seeds)));
        return 0;
    case ["docs", "left"]:
        ModelPage.Replace("what-is-left.md", LeftRun.Docs(ScoringSeed));
        return 0;
    case ["docs", "measure"]:
        ModelPage.Replace("measurement.md", MeasureRun.Over(ScoringSeed, 120));
        return 0;
    case ["docs"]:
        ModelPage.Replace("what-is-left.md", LeftRun.Docs(ScoringSeed));
        ModelPage.Replace("measurement.md", MeasureRun.Over(ScoringSeed, 120));
        return 0;
    default:
        Console.Error.WriteLine(Usage);
        return 2;
}

static int First(string[] seeds) => seeds.Length > 0 ? int.Parse(seeds[0], CultureInfo.InvariantCulture) : 1;

static int Count(string[] seeds, int usual) => seeds.Length > 1 ? int.Parse(seeds[1], CultureInfo.InvariantCulture) : usual;
