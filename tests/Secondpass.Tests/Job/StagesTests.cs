using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Films;
using Secondpass.Job;
using Secondpass.Job.Documents;
using Secondpass.Records;
using Secondpass.Tests.Records;

namespace Secondpass.Tests.Job;

public sealed class StagesTests : IDisposable
{
    private readonly TemporaryFolder folder = new();
    private readonly SetClock clock = new();
    private readonly ClinicStore store;
    private readonly FilmShelf shelf;
    private readonly FilmsInUse inUse;
    private readonly ReceiveFilm receive;
    private readonly UndecidedComparisons undecided = new(most: 2);
    private readonly KeepComparison keep;

    public StagesTests()
    {
        store = ClinicStore.Open(folder.Path, clock).Value;
        shelf = new FilmShelf(store, mostBytes: 3_000_000);
        inUse = new FilmsInUse(clock);
        receive = new ReceiveFilm(store, shelf, inUse);
        keep = new KeepComparison(store, undecided, receive, clock);
    }

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
    }

    [Fact]
    public void Keeps_a_film_s_file_untouched_and_reads_it_again_when_it_is_no_longer_at_hand()
    {
        var film = receive.Receive(DemoFilm.Before(DemoFilm.Incisor)).Value;
        Assert.Equal(DemoFilm.Before(DemoFilm.Incisor), store.ReadFilm(film.Sha256).Value);

        shelf.Drop(film.Sha256);

        Assert.True(shelf.Find(film.Sha256).Value.Pixels.SequenceEqual(film.Pixels));
    }

    [Fact]
    public void Reads_a_film_once_for_all_who_ask_for_it_at_the_same_time()
    {
        var sha256 = receive.Receive(DemoFilm.Before(DemoFilm.Molar)).Value.Sha256;
        shelf.Drop(sha256);
        using var together = new Barrier(4);
        var found = new Radiograph[4];

        var asking = Enumerable.Range(0, 4).Select(at => new Thread(() =>
        {
            together.SignalAndWait();
            found[at] = shelf.Find(sha256).Value;
        })).ToArray();
        Array.ForEach(asking, one => one.Start());
        Array.ForEach(asking, one => one.Join());

        Assert.All(found, film => Assert.Same(found[0], film));
    }

    [Fact]
    public void Stores_nothing_of_a_file_that_is_no_film()
    {
        var refusal = receive.Receive("hello"u8.ToArray()).Refusal;

        Assert.NotEmpty(refusal.Remedy);
        Assert.Empty(Directory.GetFiles(folder.Of("films"), "*", SearchOption.AllDirectories));
    }

    [Fact]
    public void Keeps_only_so_many_pixels_at_hand()
    {
        receive.Receive(DemoFilm.Before(DemoFilm.Incisor));
        receive.Receive(DemoFilm.After(DemoFilm.Incisor));
        receive.Receive(DemoFilm.Before(DemoFilm.Molar));

        Assert.InRange(shelf.Bytes, 1, 3_000_000);
    }

    [Fact]
    public void Throws_a_film_away_from_the_shelf_and_from_the_disk()
    {
        var film = receive.Receive(DemoFilm.Before(DemoFilm.Incisor)).Value;

        receive.ThrowAway(film.Sha256);

        Assert.Equal("film_not_here", shelf.Find(film.Sha256).Refusal.Code);
    }

    [Fact]
    public void A_page_that_fell_silent_keeps_no_film_from_being_thrown_away()
    {
        var film = receive.Receive(DemoFilm.Before(DemoFilm.Incisor), "silent").Value;
        receive.ThrowAway(film.Sha256, "another");
        Assert.True(store.ReadFilm(film.Sha256).IsGiven);

        clock.Now += FilmsInUse.SilentFor + TimeSpan.FromSeconds(1);
        receive.ThrowAway(film.Sha256, "another");

        Assert.False(store.ReadFilm(film.Sha256).IsGiven);
    }

    [Fact]
    public void Refuses_to_compare_before_it_is_said_what_stands_on_the_film_after()
    {
        var refusal = Compare(DemoFilm.Case(DemoFilm.Incisor) with { AfterState = null }).Refusal;

        Assert.Equal("after_state_not_said", refusal.Code);
        Assert.Equal("It is not said what stands in the canals on the film after.", refusal.Reason);
        Assert.Equal("Say whether the filling is out, an instrument stands in the canals, a dressing was placed, or they were filled again.", refusal.Remedy);
    }

    [Fact]
    public void Refuses_one_landmark_alone()
    {
        var refusal = Compare(DemoFilm.Case(DemoFilm.Incisor) with { Landmarks = [new LandmarkPair(new(10, 10), new(12, 10))] }).Refusal;

        Assert.Equal("one_landmark", refusal.Code);
        Assert.Equal("One thing is marked on both films; to help them find each other, two or more are needed.", refusal.Reason);
        Assert.Equal("Mark a second thing that is seen on both films, far from the first, or take the first mark away.", refusal.Remedy);
    }

    [Fact]
    public void Measures_the_same_lengths_as_the_simulator_knows()
    {
        var film = receive.Receive(DemoFilm.Before(DemoFilm.Incisor)).Value;
        var measured = MeasureCanals.Measure(film, DemoFilm.Case(DemoFilm.Incisor)).Value;

        Assert.Equal(DemoFilm.Case(DemoFilm.Incisor).Canals.Count, measured.Trunks.Count);
        Assert.All(measured.Document.Canals, canal => Assert.InRange(canal.LengthMm!.Value, 5, 30));
    }

    [Fact]
    public void Says_when_both_films_are_the_same_file()
    {
        var film = receive.Receive(DemoFilm.Before(DemoFilm.Incisor)).Value;

        var compared = CompareFilms.Compare(film, film, DemoFilm.Case(DemoFilm.Incisor)).Value;

        Assert.Contains("The film before and the film after are the same file, so everything is left by definition.", compared.Document.Notices);
    }

    [Theory]
    [InlineData("", 0)]
    [InlineData("   ", 0)]
    [InlineData(null, 0)]
    [InlineData("x", 121)]
    public void Refuses_a_label_that_is_empty_or_too_long(string? text, int times)
    {
        Add("one");
        var label = times == 0 ? text : new string(text![0], times);

        var refusal = keep.Keep("one", label).Refusal;

        Assert.Equal("label_length", refusal.Code);
        Assert.Equal(FormattableString.Invariant($"A label has 1 to 120 characters; this one has {times}."), refusal.Reason);
        Assert.True(undecided.Find("one").IsGiven);
    }

    [Fact]
    public void Keeps_what_was_entered_and_what_came_out_and_the_sheet_as_it_was()
    {
        var films = Add("one");

        var kept = keep.Keep("one", " incisor ").Value;

        Assert.Equal("incisor", kept.Label);
        Assert.Equal(films.Request.Before.Sha256, kept.BeforeSha256);
        Assert.Equal(DemoFilm.CaseText(DemoFilm.Incisor), kept.CaseText);
        Assert.Equal(Encoding.UTF8.GetString(DocumentJson.Write(films.Document)), kept.ResultText + "\n");
        Assert.Equal("%PDF-"u8.ToArray(), new KeptResults(store, inUse).Sheet(kept.Id).Value[..5]);
        Assert.False(undecided.Find("one").IsGiven);
    }

    [Fact]
    public void Throws_a_comparison_away_with_its_films()
    {
        var films = Add("one");

        Assert.True(keep.ThrowAway("one"));
        Assert.False(keep.ThrowAway("one"));

        Assert.False(store.ReadFilm(films.Request.Before.Sha256).IsGiven);
        Assert.False(store.ReadFilm(films.Request.After.Sha256).IsGiven);
    }

    [Fact]
    public void Holds_the_newest_undecided_comparisons_only_and_says_how_to_get_an_older_one_back()
    {
        var films = Add("one");
        undecided.Add(new UndecidedComparison("two", films, null, "{}"));
        undecided.Add(new UndecidedComparison("three", films, null, "{}"));

        var refusal = undecided.Find("one").Refusal;

        Assert.Equal("This comparison is not held any more.", refusal.Reason);
        Assert.Equal("Ask again what is left; the films and the marks are still there.", refusal.Remedy);
        Assert.True(undecided.Find("three").IsGiven);
    }

    private ComparedFilms Add(string id)
    {
        var compared = Compare(DemoFilm.Case(DemoFilm.Incisor)).Value;
        undecided.Add(new UndecidedComparison(id, compared, null, DemoFilm.CaseText(DemoFilm.Incisor)));
        return compared;
    }

    private Answer<ComparedFilms> Compare(MarkedCase marked) => CompareFilms.Compare(
        receive.Receive(DemoFilm.Before(DemoFilm.Incisor)).Value,
        receive.Receive(DemoFilm.After(DemoFilm.Incisor)).Value,
        marked);
}
