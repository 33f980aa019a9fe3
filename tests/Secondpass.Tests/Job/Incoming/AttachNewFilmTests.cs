using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Tests.Job.Cases;
using Secondpass.Tests.Radiographs.Identify;

namespace Secondpass.Tests.Job.Incoming;

public sealed class AttachNewFilmTests : IDisposable
{
    private static readonly byte[] OfAnna = NamedFilm.Of("Bird^Anna", "4711", "19610304", "16");
    private static readonly byte[] OfBen = NamedFilm.Of("Finch^Ben", "4712", "19710305", "16");

    private readonly FilmsDesk films = new();

    private CaseDesk Desk => films.Desk;

    public void Dispose() => films.Dispose();

    [Fact]
    public void One_tap_attaches_a_film_and_keeps_where_it_came_from_with_what_it_says()
    {
        var it = Open();
        var sha = Arrive("IMG_1.dcm", OfAnna);
        var offered = Assert.Single(Desk.Incoming.Offered(it).Films);
        Assert.True(offered.IsOfThisPatient);
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], Desk.Incoming.Picture(sha).Value[..4].ToArray());
        Assert.Empty(offered.Differences.Sentences);

        it = Desk.Incoming.Attach(it.Id, sha, new FilmTaken(FilmMoment.During, TubeShift.Mesial), Confirmation.None, CaseDesk.Anna).Value;

        var film = Assert.Single(it.Films);
        Assert.Equal((sha, FilmMoment.During, TubeShift.Mesial), (film.Sha256, film.Moment, film.Shift));
        Assert.Equal(("IMG_1.dcm", "Bird, Anna", null), (film.Origin!.FileName, film.Origin.Stated.PatientName, film.Origin.WhyAttached));
        Assert.Equal(OfAnna, Desk.Store.ReadFilm(sha).Value);
        Assert.Empty(Desk.Incoming.Offered(it).Films);
        Assert.Equal(1, Desk.Incoming.Offered(it).AttachedCount);
        Assert.True(File.Exists(Path.Combine(films.Folder, "IMG_1.dcm")));
    }

    [Fact]
    public void A_film_of_another_patient_is_not_attached_before_it_is_said_in_words_why_it_belongs_here()
    {
        var it = Open();
        var sha = Arrive("IMG_2.dcm", OfBen);
        string[] sentences =
        [
            "The film says patient number 4712, the case 4711.",
            "The film is of “Finch, Ben”, the case of “Anna Bird”.",
            "The film says born on 5 March 1971, the case on 4 March 1961.",
        ];

        var refusal = Attach(it, sha, Confirmation.None);
        Assert.Equal("film_of_another", refusal.Code);
        Assert.Equal("“IMG_2.dcm” is not attached yet. " + string.Join(" ", sentences), refusal.Reason);
        Assert.Equal(string.Join('\n', sentences), Desk.Incoming.Differences(it, sha));

        // A reason without having seen what differs confirms nothing, and neither does none.
        Assert.Equal("film_of_another", Attach(it, sha, new Confirmation(null, "married")).Code);
        Assert.Equal("film_of_another", Attach(it, sha, new Confirmation(sentences[0], "married")).Code);
        Assert.Equal("film_of_another", Attach(it, sha, new Confirmation(string.Join('\n', sentences), " ")).Code);
        Assert.Empty(Desk.Store.Cases.Read(it.Id).Value.Films);
        Assert.False(Desk.Store.ReadFilm(sha).IsGiven);

        it = Desk.Incoming.Attach(it.Id, sha, FilmsDesk.Before, new Confirmation(string.Join("\r\n", sentences), " typed at the wrong patient "), CaseDesk.Anna).Value;
        var origin = it.Films[0].Origin!;
        Assert.Equal("typed at the wrong patient", origin.WhyAttached);
        Assert.Equal(sentences, origin.Confirmed);
        Assert.Equal(origin.Confirmed, ((FilmAttached)Desk.Store.Cases.History(it.Id).Value[^1].Event).Film.Origin!.Confirmed);
    }

    [Fact]
    public void What_was_confirmed_in_a_case_is_not_asked_again_and_anything_else_is()
    {
        var it = Open();
        var first = Arrive("IMG_1.dcm", NamedFilm.Of("Bird^Anna", "S-99", shade: 1));
        it = Desk.Incoming.Attach(it.Id, first, FilmsDesk.Before, new Confirmation(Desk.Incoming.Differences(it, first), "the sensor counts for itself"), CaseDesk.Anna).Value;

        var second = Arrive("IMG_2.dcm", NamedFilm.Of("Bird^Anna", "S-99", shade: 2));
        Assert.Equal("the sensor counts for itself", Assert.Single(Desk.Incoming.Offered(it).Films).Differences.ConfirmedBefore);
        it = Desk.Incoming.Attach(it.Id, second, FilmsDesk.Before, Confirmation.None, CaseDesk.Ben).Value;
        Assert.Equal("the sensor counts for itself", it.Films[1].Origin!.WhyAttached);

        var third = Arrive("IMG_3.dcm", NamedFilm.Of("Finch^Ben", "S-99", shade: 3));
        Assert.Equal("film_of_another", Attach(it, third, Confirmation.None).Code);
    }

    [Fact]
    public void Of_two_who_attach_a_film_to_two_cases_the_second_is_told_who_was_first_and_where()
    {
        var (one, other) = (Open(), Desk.Opening.Open(CaseDesk.Referral("26", "4800"), null, CaseDesk.Anna).Value);
        var sha = Arrive("IMG_1.dcm", NamedFilm.Of(shade: 4));
        Assert.True(Desk.Incoming.Attach(one.Id, sha, FilmsDesk.Before, Confirmation.None, CaseDesk.Anna).IsGiven);

        var refusal = Attach(other, sha, Confirmation.None);
        Assert.Equal("film_attached_already", refusal.Code);
        Assert.StartsWith("Anna attached this film to the case of patient 4711, upper right first molar, on ", refusal.Reason, StringComparison.Ordinal);
        Assert.StartsWith("Anna attached this film to this case already, on ", Attach(one, sha, Confirmation.None).Reason, StringComparison.Ordinal);
        Assert.Empty(Desk.Store.Cases.Read(other.Id).Value.Films);
    }

    [Fact]
    public async Task Of_many_who_tap_at_the_same_moment_one_attaches_it_and_all_others_are_told()
    {
        var cases = Enumerable.Range(0, 8).Select(place => Desk.Opening.Open(CaseDesk.Referral("16", $"50{place}"), null, CaseDesk.Anna).Value.Id).ToList();
        var sha = Arrive("IMG_1.dcm", NamedFilm.Of(shade: 5));
        using var start = new Barrier(16);
        var answers = await Task.WhenAll(Enumerable.Range(0, 16).Select(place => Task.Factory.StartNew(
            () =>
            {
                start.SignalAndWait();
                return Desk.Incoming.Attach(cases[place % 8], sha, FilmsDesk.Before, Confirmation.None, CaseDesk.Ben);
            },
            TestContext.Current.CancellationToken,
            TaskCreationOptions.LongRunning,
            TaskScheduler.Default)));

        Assert.Single(answers, answer => answer.IsGiven);
        Assert.All(answers.Where(answer => !answer.IsGiven), answer => Assert.Equal("film_attached_already", answer.Refusal.Code));
        Assert.Single(cases.SelectMany(id => Desk.Store.Cases.Read(id).Value.Films));
    }

    [Fact]
    public void A_file_that_became_another_since_it_was_shown_is_not_attached()
    {
        var it = Open();
        var sha = Arrive("IMG_1.dcm", OfAnna);
        films.Put("IMG_1.dcm", OfBen);

        Assert.Equal("film_changed", Attach(it, sha, Confirmation.None).Code);
    }

    [Fact]
    public void A_film_is_proposed_for_the_one_case_of_its_number_and_tooth_and_for_none_where_that_is_not_certain()
    {
        var sixteen = Open();
        Arrive("IMG_1.dcm", OfAnna);
        Arrive("IMG_2.dcm", NamedFilm.Of("Bird^Anna", "4711", shade: 6));
        Arrive("IMG_3.dcm", NamedFilm.Of("Finch^Ben", "4711", tooth: "16", shade: 7));
        Assert.Equal(
            [("IMG_1.dcm", sixteen.Id), ("IMG_2.dcm", null), ("IMG_3.dcm", (CaseId?)null)],
            films.Offered.Films.Select(one => (one.Film.Name, one.Case)).OrderBy(one => one.Name, StringComparer.Ordinal));

        Open();
        Assert.All(films.Offered.Films, one => Assert.Null(one.Case));
    }

    [Fact]
    public void A_film_that_comes_now_was_taken_as_far_as_the_case_is()
    {
        var it = Open();
        Assert.Equal(FilmMoment.Before, Secondpass.Job.Incoming.AttachNewFilm.MomentNow(it));
        it = it.With(new Secondpass.Domain.Chairside.MomentMarked(1, films.Desk.Clock.Now, Secondpass.Domain.Chairside.ChairsideMark.RemovalStart, "P"));
        Assert.Equal(FilmMoment.During, Secondpass.Job.Incoming.AttachNewFilm.MomentNow(it));
    }

    [Fact]
    public void A_film_dropped_on_the_case_is_held_against_it_in_the_same_way_and_lies_ready_meanwhile()
    {
        var it = Open();
        var ready = Desk.Films.TakeIn([new SentFile("ben.dcm", OfBen), new SentFile("nobody.dcm", NamedFilm.Of(shade: 8))]).Value;
        var refusal = Desk.Films.Attach(it.Id, it.Version, ready, FilmsDesk.Before, Confirmation.None, CaseDesk.Anna).Refusal;
        Assert.StartsWith("“ben.dcm” is not attached yet. The film says patient number 4712, the case 4711.", refusal.Reason, StringComparison.Ordinal);
        Assert.Empty(Desk.Store.Cases.Read(it.Id).Value.Films);

        it = Desk.Films.Attach(it.Id, it.Version, ready, FilmsDesk.Before, new Confirmation(Desk.Films.Differences(it, ready), "typed at the wrong patient"), CaseDesk.Anna).Value;
        Assert.Equal([("ben.dcm", "typed at the wrong patient"), ("nobody.dcm", null)], it.Films.Select(film => (film.Origin!.FileName, film.Origin.WhyAttached)));
    }

    private string Arrive(string name, byte[] film)
    {
        films.Put(name, film);
        films.LookUntilRead();
        return films.Now.Films.Single(one => one.Name == name).Sha256;
    }

    private DentalCase Open()
    {
        var referral = CaseDesk.Referral();
        (referral.PatientName, referral.PatientBorn) = ("Anna Bird", "1961-03-04");
        var opened = Desk.Opening.Open(referral, null, CaseDesk.Anna);
        return opened.IsGiven ? opened.Value : Desk.Opening.Open(referral, null, CaseDesk.Anna).Value;
    }

    private Secondpass.Domain.Refusal Attach(DentalCase it, string sha, Confirmation said) =>
        Desk.Incoming.Attach(it.Id, sha, FilmsDesk.Before, said, CaseDesk.Ben).Refusal;
}
