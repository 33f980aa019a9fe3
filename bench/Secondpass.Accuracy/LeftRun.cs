using System.Diagnostics;
using System.Text;
using Secondpass.Domain.Evidence;
using Secondpass.Domain.Films;
using Secondpass.Phantoms.Truth;
using Secondpass.Radiographs.Compare;

namespace Secondpass.Accuracy;

/// <summary>What is left, against the truth of simulated pairs of both generators, beside a pipeline of general-purpose libraries.</summary>
internal static class LeftRun
{
    /// <summary>The registration is judged where the beams lie no farther apart.</summary>
    private const double SmallAngleDegrees = 5;

    private static readonly (CanalThird? Third, string Name)[] Places =
        [(null, "whole canal"), (CanalThird.Coronal, "coronal third"), (CanalThird.Middle, "middle third"), (CanalThird.Apical, "apical third")];

    /// <summary>A quick look: pairs of the first generator only.</summary>
    /// <param name="first">First seed.</param>
    /// <param name="count">How many pairs taken with care; half as many careless ones follow.</param>
    public static string Over(int first, int count)
    {
        var text = new StringBuilder();
        Tables(text, $"Taken with care, seeds {Range(first, count)}", Score(Own(first, count, 1)));
        Tables(text, $"Taken carelessly, seeds {Range(first + 10_000, count / 2)}", Score(Own(first + 10_000, count / 2, 2)));
        return text.ToString();
    }

    /// <summary>A quick look at the second generator, which is never tuned on.</summary>
    /// <param name="first">First seed.</param>
    /// <param name="count">How many pairs.</param>
    public static string Second(int first, int count)
    {
        var text = new StringBuilder();
        Tables(text, $"Second generator, seeds {Range(first, count)}", Score(SecondPairs.Over(Folder("second"), first, count).Select(one => one.Pair)));
        return text.ToString();
    }

    /// <summary>Everything: both generators, the general pipeline on the same films, pairs that must be refused, plots.</summary>
    /// <param name="first">First scoring seed.</param>
    /// <returns>The tables; the plots are written beside the docs' pictures.</returns>
    public static string Docs(int first)
    {
        const int Careful = 120;
        const int Careless = 60;
        const int Others = 220;
        const int OwnBeside = 40;
        const int OthersBeside = 120;
        var careful = Score(Own(first, Careful, 1));
        var careless = Score(Own(first + 10_000, Careless, 2));
        var second = Score(SecondPairs.Over(Folder("second"), first, Others).Select(one => one.Pair));
        var all = new ScoreBook();
        foreach (var book in new[] { careful, careless, second })
        {
            all.Add(book);
        }

        var text = new StringBuilder();
        Goals(text, all);
        Extremes(text, all);
        Bits(text, all);
        Tables(text, $"First generator, taken with care (angles to about 3°, rotation to 4°), seeds {Range(first, Careful)}", careful);
        Tables(text, $"First generator, taken carelessly (angles to about 6°, rotation to 8°), seeds {Range(first + 10_000, Careless)}", careless);
        Tables(text, $"Second generator (angles to 8°, rotation to 15°, a fifth evened out locally, a third JPEG), seeds {Range(first, Others)}", second);
        var general = Beside(Own(first, OwnBeside, 1).Select(pair => (pair, Path.Combine(Folder("first"), pair.Name))).Concat(SecondPairs.Over(Folder("second"), first, OthersBeside)));
        var mine = all.Only(general.Seen);
        Compared(text, mine, general);
        text.Append(ViewsRun.Over(first, OwnBeside, TwoViewFacts.CommonDeviation.Value));
        White(text, first, OwnBeside);
        Worst(text, all);
        Bad(text, first + 20_000, 40);
        Plots(all, mine, general);
        return text.ToString();
    }

    private static IEnumerable<KnownPair> Own(int first, int count, double size) => Enumerable.Range(first, count).Select(seed => OwnPairs.Make(seed, size));

    private static ScoreBook Score(IEnumerable<KnownPair> pairs)
    {
        var book = new ScoreBook();
        foreach (var pair in pairs)
        {
            Add(book, pair);
        }

        return book;
    }

    private static void Add(ScoreBook book, KnownPair pair)
    {
        var watch = Stopwatch.StartNew();
        var answer = FilmComparer.Compare(pair.Request);
        var took = watch.Elapsed.TotalSeconds;
        book.Add(pair, answer.TryGet(out var comparison, out _) ? FoundBranch.Of(comparison) : null, took);
    }

    private static ScoreBook Beside(IEnumerable<(KnownPair Pair, string Folder)> pairs)
    {
        var book = new ScoreBook();
        foreach (var (pair, folder) in pairs)
        {
            if (!File.Exists(Path.Combine(folder, "truth.json")))
            {
                GeneralPipeline.Write(pair, folder);
            }

            GeneralPipeline.Run(folder);
            var (found, seconds) = GeneralPipeline.Read(pair, folder);
            book.Add(pair, found, seconds);
        }

        return book;
    }

    private static void Goals(StringBuilder text, ScoreBook all)
    {
        text.AppendLine(CultureInfo.InvariantCulture, $"**All {all.Pairs} pairs of both generators, canals without overlap of which 5 to 95 % is left.** In brackets the 95 % interval of drawing whole pairs anew (2000 draws).");
        text.AppendLine().AppendLine("| what | n | median error | aim | 95th percentile | aim | bias | aim | in the interval | aim | median width | aim |").AppendLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        Row("whole canal, mass", null, Measure.Mass, "2.5", "8", "12");
        Row("whole canal, area", null, Measure.Area, "3", "12", "–");
        Row("apical third, mass", CanalThird.Apical, Measure.Mass, "6", "15", "–");
        Row("apical third, area", CanalThird.Apical, Measure.Area, "6", "20", "–");
        var registration = all.Registration(SmallAngleDegrees);
        text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"Registration along the canals, beams no more than {SmallAngleDegrees}° apart ({registration.Length} branches): {Errors.Quantile(registration, 0.5):0.0} px root mean square in the median branch (aim 1.5), {Errors.Quantile(registration, 0.95):0.0} px at the 95th percentile (aim 4). Refused although comparable: {all.Refused.Count} of {all.Pairs} pairs{(all.Refused.Count == 0 ? string.Empty : $" ({string.Join(", ", all.Refused)})")} (aim 1 %); without a result in a compared pair: {all.BranchesWithoutResult} branches.");
        text.AppendLine();

        void Row(string what, CanalThird? third, Measure measure, string median, string tail, string width)
        {
            var scored = Of(all, third, measure, overlapped: false, Left.Some);
            text.AppendLine(CultureInfo.InvariantCulture, $"| {what} | {scored.Count} | {Errors.ByPair(scored, 0.5)} | {median} | {Errors.ByPair(scored, 0.95)} | {tail} | {scored.Average(one => one.Error):0.0} | ±1 | {Errors.Covered(scored)} | 93–98 % | {Errors.MedianWidth(scored):0.0} | {width} |");
        }
    }

    private static void Extremes(StringBuilder text, ScoreBook all)
    {
        text.AppendLine("**Next to nothing left (under 5 %) and next to nothing removed (over 95 %)**, canals without overlap:").AppendLine().AppendLine(Errors.Head);
        foreach (var (left, words) in new[] { (Left.Nothing, "nothing left"), (Left.Everything, "nothing removed") })
        {
            foreach (var measure in Enum.GetValues<Measure>())
            {
                AddRow(text, $"{words}, {Name(measure)}", Of(all, null, measure, overlapped: false, left));
            }
        }

        text.AppendLine();
    }

    private static void Bits(StringBuilder text, ScoreBook all)
    {
        text.AppendLine("**Films of 8 bits beside deeper ones**, whole canals without overlap, 5 to 95 % left:").AppendLine().AppendLine(Errors.Head);
        foreach (var eight in new[] { true, false })
        {
            AddRow(
                text,
                eight ? "8 bits, mass" : "12 or 16 bits, mass",
                [.. all.Parts.Where(part => part is { Third: null, Measure: Measure.Mass, IsOverlapped: false, Left: Left.Some } && part.IsEightBit == eight).Select(part => part.Scored)]);
        }

        text.AppendLine();
    }

    private static void Tables(StringBuilder text, string title, ScoreBook book)
    {
        text.AppendLine(CultureInfo.InvariantCulture, $"**{title}**: {book.Pairs} pairs, {book.Refused.Count} refused. Canals without overlap, 5 to 95 % left; then overlapped ones.");
        text.AppendLine().AppendLine(Errors.Head);
        foreach (var (third, place) in Places)
        {
            foreach (var measure in Enum.GetValues<Measure>())
            {
                AddRow(text, $"{place}, {Name(measure)}", Of(book, third, measure, overlapped: false, Left.Some));
            }
        }

        foreach (var measure in Enum.GetValues<Measure>())
        {
            AddRow(text, $"whole canal, overlapped, {Name(measure)}", Of(book, null, measure, overlapped: true, Left.Some));
        }

        var far = book.Registration();
        text.AppendLine().AppendLine(
            CultureInfo.InvariantCulture,
            $"Registration along the canals: {Errors.Quantile(far, 0.5):0.0} px root mean square in the median branch, {Errors.Quantile(far, 0.95):0.0} px at the 95th percentile. A comparison took {1000 * book.MedianSeconds:0} ms (median, this machine).");
        text.AppendLine();
    }

    private static void Compared(StringBuilder text, ScoreBook mine, ScoreBook general)
    {
        text.AppendLine(CultureInfo.InvariantCulture, $"**Beside a pipeline of general-purpose libraries** (`bench/general_pipeline.py`: features, RANSAC and ECC, gain and offset, local thresholds), the same {mine.Pairs} pairs of both generators in the same run. Canals without overlap, 5 to 95 % left; error as median / 95th percentile.");
        text.AppendLine().AppendLine("| what | n | Secondpass | n | general pipeline | ratio of medians | ratio of 95th percentiles |").AppendLine("| --- | --- | --- | --- | --- | --- | --- |");
        foreach (var (third, place) in Places)
        {
            foreach (var measure in Enum.GetValues<Measure>())
            {
                Row($"{place}, {Name(measure)}", Errors.Sizes(Of(mine, third, measure, overlapped: false, Left.Some)), Errors.Sizes(Of(general, third, measure, overlapped: false, Left.Some)));
            }
        }

        Row("registration, px", mine.Registration(), general.Registration());
        text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"Inside the process a pair took {mine.MedianSeconds:0.00} s and {general.MedianSeconds:0.00} s (medians). Refused: {mine.Refused.Count} and {general.Refused.Count} pairs.");
        text.AppendLine();

        void Row(string what, double[] here, double[] there) => text.AppendLine(
            CultureInfo.InvariantCulture,
            $"| {what} | {here.Length} | {Errors.Quantile(here, 0.5):0.0} / {Errors.Quantile(here, 0.95):0.0} | {there.Length} | {Errors.Quantile(there, 0.5):0.0} / {Errors.Quantile(there, 0.95):0.0} | {Errors.Quantile(here, 0.5) / Errors.Quantile(there, 0.5):0.00} | {Errors.Quantile(here, 0.95) / Errors.Quantile(there, 0.95):0.00} |");
    }

    private static void White(StringBuilder text, int first, int count)
    {
        text.AppendLine(CultureInfo.InvariantCulture, $"**Films cut off to white**, as sensors' programs do it: the same {count} pairs of the first generator, seeds {Range(first, count)}, whole and with a fifth or two fifths of the first filling's contrast lost in white on both films. Whole canals without overlap, whatever is left; no mass is given where white hides more than ±20 % of it.").AppendLine().AppendLine(Errors.Head);
        foreach (var (share, words) in new[] { (0.0, "nothing cut off"), (0.2, "a fifth cut off"), (0.4, "two fifths cut off") })
        {
            var book = Score(Own(first, count, 1).Select(pair => share == 0 ? pair : WhiteFilms.Of(pair, share)));
            foreach (var measure in Enum.GetValues<Measure>())
            {
                AddRow(text, $"{words}, {Name(measure)}", [.. book.Parts.Where(part => part is { Third: null, IsOverlapped: false } && part.Measure == measure).Select(part => part.Scored)]);
            }
        }

        text.AppendLine();
    }

    private static void Worst(StringBuilder text, ScoreBook all)
    {
        text.AppendLine("**The twelve greatest errors** of a whole canal's mass without overlap, whatever is left:").AppendLine().AppendLine("| pair | branch | truly left | found | interval |").AppendLine("| --- | --- | --- | --- | --- |");
        foreach (var part in all.Parts
            .Where(part => part is { Third: null, Measure: Measure.Mass, IsOverlapped: false })
            .OrderByDescending(part => Math.Abs(part.Scored.Error))
            .Take(12))
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"| {part.Scored.Pair} | {part.Branch} | {part.Scored.Truth:0.0} | {part.Scored.Value:0.0} | {part.Scored.Low:0} to {part.Scored.High:0} |");
        }

        text.AppendLine();
    }

    private static void Bad(StringBuilder text, int first, int count)
    {
        (string Name, Func<int, PhantomPair> Make)[] kinds =
        [
            ("another tooth of the same kind", seed => PhantomPair.OfTwoTeeth(seed)),
            ("mirrored", seed => PhantomPair.WithMirroredAfter(seed)),
            ("the place beside the tooth", seed => PhantomPair.WithoutOverlap(seed)),
        ];
        text.AppendLine("**Pairs that must be refused**").AppendLine().AppendLine("| kind | pairs | given a number all the same |").AppendLine("| --- | --- | --- |");
        foreach (var (name, make) in kinds)
        {
            var given = Enumerable.Range(first, count).Count(seed => FilmComparer.Compare(OwnPairs.Request(make(seed), seed)).IsGiven);
            text.AppendLine(CultureInfo.InvariantCulture, $"| {name} | {count} | {given} |");
        }
    }

    private static void Plots(ScoreBook all, ScoreBook mine, ScoreBook general)
    {
        var folder = Path.Combine(ModelPage.Root(), "docs", "pictures");
        File.WriteAllText(
            Path.Combine(folder, "left-found-against-true.svg"),
            ErrorPlots.FoundAgainstTrue(
                ("mass, whole canals", [.. Everything(all, Measure.Mass)]),
                ("area, whole canals", [.. Everything(all, Measure.Area)])));
        File.WriteAllText(
            Path.Combine(folder, "left-errors-in-order.svg"),
            ErrorPlots.ErrorsInOrder(
                ("mass, whole canals", [("Secondpass", [.. Everything(mine, Measure.Mass)]), ("general pipeline", [.. Everything(general, Measure.Mass)])]),
                ("area, whole canals", [("Secondpass", [.. Everything(mine, Measure.Area)]), ("general pipeline", [.. Everything(general, Measure.Area)])])));

        static IEnumerable<Scored> Everything(ScoreBook book, Measure measure) =>
            book.Parts.Where(part => part is { Third: null, IsOverlapped: false } && part.Measure == measure).Select(part => part.Scored);
    }

    private static IReadOnlyCollection<Scored> Of(ScoreBook book, CanalThird? third, Measure measure, bool overlapped, Left left) =>
    [
        .. book.Parts
            .Where(part => part.Third == third && part.Measure == measure && part.IsOverlapped == overlapped && part.Left == left)
            .Select(part => part.Scored),
    ];

    private static void AddRow(StringBuilder text, string what, IReadOnlyCollection<Scored> scored)
    {
        if (scored.Count > 0)
        {
            text.AppendLine(Errors.Row(what, scored, "0.0"));
        }
    }

    private static string Name(Measure measure) => measure == Measure.Mass ? "mass" : "area";

    private static string Range(int first, int count) => string.Create(CultureInfo.InvariantCulture, $"{first} to {first + count - 1}");

    private static string Folder(string name) => Path.Combine(ModelPage.Root(), "artifacts", "accuracy", name);
}
