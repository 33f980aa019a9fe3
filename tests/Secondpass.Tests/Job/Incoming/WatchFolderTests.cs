using Secondpass.Job.Incoming;
using Secondpass.Records;
using Secondpass.Tests.Job.Cases;
using Secondpass.Tests.Radiographs.Identify;
using Secondpass.Tests.Records;

namespace Secondpass.Tests.Job.Incoming;

public sealed class WatchFolderTests : IDisposable
{
    private static readonly byte[] Film = NamedFilm.Of("Bird^Anna", "4711", "19610304", "16", "20260304", "091530");

    private readonly FilmsDesk films = new();

    public void Dispose() => films.Dispose();

    [Fact]
    public void A_film_that_is_written_bit_by_bit_is_there_once_it_is_whole_and_at_rest_and_never_before()
    {
        var path = Path.Combine(films.Folder, "IMG_1.dcm");
        const int steps = 6;
        for (var step = 0; step < steps; step++)
        {
            using (var file = File.Open(path, FileMode.Append, FileAccess.Write, FileShare.ReadWrite))
            {
                file.Write(Film.AsSpan(step * Film.Length / steps, ((step + 1) * Film.Length / steps) - (step * Film.Length / steps)));
            }

            // A slow network: longer between two pieces than a file has to rest.
            films.Later(step % 2 == 0 ? 1 : 3);
            films.Later(3);
            if (step < steps - 1)
            {
                Assert.Empty(films.Now.Films);
                Assert.Equal(["IMG_1.dcm"], films.Now.BeingWritten);
                Assert.Empty(films.Now.Unreadable);
            }
        }

        films.Later(3);
        var whole = Assert.Single(films.Now.Films);
        Assert.Equal(("IMG_1.dcm", "Bird, Anna", "4711"), (whole.Name, whole.Stated.PatientName, whole.Stated.PatientNumber));
        Assert.Empty(films.Now.BeingWritten);
        Assert.Equal(Film, File.ReadAllBytes(path));
    }

    [Fact]
    public void A_film_is_not_read_while_another_program_keeps_it_open_for_writing()
    {
        var path = films.Put("IMG_1.dcm", Film);
        using (File.Open(path, FileMode.Open, FileAccess.Write, FileShare.None))
        {
            films.LookUntilRead();
            Assert.Empty(films.Now.Films);
            Assert.Equal(["IMG_1.dcm"], films.Now.BeingWritten);
        }

        films.Later(3);
        Assert.Single(films.Now.Films);
    }

    [Fact]
    public void The_same_film_twice_is_shown_once_with_both_names()
    {
        films.Put("IMG_1.dcm", Film);
        Thread.Sleep(20);
        films.Put(Path.Combine("export", "copy.dcm"), Film);
        films.LookUntilRead();

        var once = Assert.Single(films.Now.Films);
        Assert.Equal("IMG_1.dcm", once.Name);
        Assert.Equal([Path.Combine("export", "copy.dcm")], once.AlsoNamed);
    }

    [Fact]
    public void What_is_no_film_is_listed_with_the_readers_own_words_once_it_has_rested_for_long()
    {
        films.Put("notes.txt", "not a film"u8.ToArray());
        films.Put("cut.dcm", Film[..^100]);
        films.LookUntilRead();
        Assert.Empty(films.Now.Unreadable);
        Assert.Equal(2, films.Now.BeingWritten.Count);

        films.Later(10);
        Assert.Empty(films.Now.BeingWritten);
        Assert.Equal(["cut.dcm", "notes.txt"], films.Now.Unreadable.Select(file => file.Name).Order(StringComparer.Ordinal));
        Assert.Equal(
            Secondpass.Radiographs.Read.FilmReader.Read(Film.AsMemory(0, Film.Length - 100)).Refusal.Reason,
            films.Now.Unreadable.Single(file => file.Name == "cut.dcm").Refusal.Reason);

        // The rest of it comes after all.
        films.Put("cut.dcm", Film);
        films.LookUntilRead();
        Assert.Single(films.Now.Films);
        Assert.Equal("notes.txt", Assert.Single(films.Now.Unreadable).Name);
    }

    [Fact]
    public void A_folder_that_disappears_is_said_since_when_and_its_films_are_there_again_when_it_returns()
    {
        films.Put("IMG_1.dcm", Film);
        films.LookUntilRead();
        var away = films.Folder + ".away";
        Directory.Move(films.Folder, away);
        films.Later(2);
        var since = films.Desk.Clock.Now;
        films.Later(60);

        Assert.Equal(since, films.Now.GoneSince);
        Assert.Empty(films.Now.Films);
        Assert.Equal(films.Folder, films.Now.Folder);

        Directory.Move(away, films.Folder);
        films.Later(2);
        Assert.Null(films.Now.GoneSince);
        Assert.Equal("IMG_1.dcm", Assert.Single(films.Now.Films).Name);
    }

    [Fact]
    public void A_film_that_its_program_moves_away_is_offered_no_more_and_is_not_missed()
    {
        var path = films.Put("IMG_1.dcm", Film);
        films.LookUntilRead();
        var shown = Assert.Single(films.Now.Films).Sha256;
        File.Delete(path);
        Assert.Equal("file_gone", films.Desk.Incoming.Attach(films.Desk.Open().Id, shown, FilmsDesk.Before, Secondpass.Job.Cases.Confirmation.None, CaseDesk.Anna).Refusal.Code);

        films.Later(2);
        Assert.Empty(films.Now.Films);
        Assert.Equal("film_not_here", films.Desk.Incoming.Picture(shown).Refusal.Code);
    }

    [Fact]
    public void Films_of_earlier_years_are_counted_and_not_offered()
    {
        File.SetLastWriteTimeUtc(films.Put("old.dcm", Film), new DateTime(2019, 3, 4, 9, 30, 0, DateTimeKind.Utc));
        films.Desk.Clock.Now += TimeSpan.FromDays(8);
        films.LookUntilRead();

        Assert.Empty(films.Now.Films);
        Assert.Equal(1, films.Now.Older);
    }

    [Fact]
    public void A_film_copied_from_a_stick_is_new_though_it_was_written_long_ago()
    {
        films.Desk.Watched.Look();
        File.SetLastWriteTimeUtc(films.Put("old.dcm", Film), new DateTime(2019, 3, 4, 9, 30, 0, DateTimeKind.Utc));
        films.LookUntilRead();

        Assert.Single(films.Now.Films);
    }

    [Fact]
    public void Hidden_files_are_passed_over()
    {
        films.Put(".DS_Store", [1, 2, 3]);
        films.LookUntilRead();
        films.Later(10);

        Assert.Equal((0, 0, 0), (films.Now.Films.Count, films.Now.Unreadable.Count, films.Now.BeingWritten.Count));
    }

    [Fact]
    public void No_file_is_changed_moved_or_deleted_and_nothing_is_stored_by_looking()
    {
        var path = films.Put("IMG_1.dcm", Film);
        var written = File.GetLastWriteTimeUtc(path);
        films.LookUntilRead();
        films.Desk.Incoming.PutAside(films.Now.Films[0].Sha256, CaseDesk.Anna);

        Assert.Equal([path], Directory.GetFiles(films.Folder));
        Assert.Equal(written, File.GetLastWriteTimeUtc(path));
        Assert.Equal(Film, File.ReadAllBytes(path));
        Assert.False(films.Desk.Store.ReadFilm(films.Now.Films[0].Sha256).IsGiven);
    }

    [Fact]
    public void A_restart_remembers_the_folder_what_was_attached_and_what_was_put_aside()
    {
        using var data = new TemporaryFolder();
        using var sensor = new TemporaryFolder();
        byte[][] three = [NamedFilm.Of(shade: 1), NamedFilm.Of(shade: 2), NamedFilm.Of(shade: 3)];
        for (var place = 0; place < 3; place++)
        {
            File.WriteAllBytes(sensor.Of($"{place}.dcm"), three[place]);
        }

        var clock = new SetClock { Now = TimeProvider.System.GetUtcNow() };
        using (var store = ClinicStore.Open(data.Path, clock).Value)
        {
            var (watched, incoming) = Started(store);
            Assert.True(new FilmsFolder(store).Choose($"“{sensor.Path}{Path.DirectorySeparatorChar}”", CaseDesk.Anna).Value);
            LookTwice(watched);
            var it = new Secondpass.Job.Cases.OpenCase(store, new(store), new(store)).Open(CaseDesk.Referral(), null, CaseDesk.Anna).Value;
            string ShaOf(string name) => watched.Now.Films.Single(film => film.Name == name).Sha256;
            Assert.True(incoming.Attach(it.Id, ShaOf("0.dcm"), FilmsDesk.Before, Secondpass.Job.Cases.Confirmation.None, CaseDesk.Anna).IsGiven);
            Assert.True(incoming.PutAside(ShaOf("1.dcm"), CaseDesk.Anna).Value);
        }

        using (var store = ClinicStore.Open(data.Path, clock).Value)
        {
            var (watched, incoming) = Started(store);
            LookTwice(watched);
            var offered = incoming.Offered(null);
            Assert.Equal(sensor.Path, offered.Folder.Folder);
            Assert.Equal(["2.dcm"], offered.Films.Select(one => one.Film.Name));
            Assert.Equal(["1.dcm"], offered.PutAside.Select(one => one.Name));
            Assert.Equal(1, offered.AttachedCount);

            Assert.False(incoming.TakeBack(offered.PutAside[0].Sha256, CaseDesk.Ben).Value);
            Assert.Equal(2, incoming.Offered(null).Films.Count);
        }

        (WatchFolder, AttachNewFilm) Started(ClinicStore store)
        {
            var watched = new WatchFolder(store, clock);
            return (watched, new AttachNewFilm(store, new(store, new(store), new(clock)), watched));
        }

        void LookTwice(WatchFolder watched)
        {
            watched.Look();
            clock.Now += TimeSpan.FromSeconds(3);
            watched.Look();
        }
    }

    [Fact]
    public void A_folder_that_is_none_or_that_holds_the_clinic_s_own_data_is_not_taken()
    {
        var desk = films.Desk;
        Assert.Equal("There is no folder “" + films.Folder + "x” on this computer.", desk.Folders.Choose(films.Folder + "x", CaseDesk.Anna).Refusal.Reason);
        Assert.Equal("“films” is not the whole path of a folder.", desk.Folders.Choose("films", CaseDesk.Anna).Refusal.Reason);
        Assert.Equal("folder_of_data", desk.Folders.Choose(Path.Combine(desk.Store.Folder, "films"), CaseDesk.Anna).Refusal.Code);
        Assert.Equal("folder_of_data", desk.Folders.Choose(Path.GetPathRoot(desk.Store.Folder), CaseDesk.Anna).Refusal.Code);
        Assert.Equal(films.Folder, desk.Folders.Chosen);

        Assert.False(desk.Folders.Choose(" ", CaseDesk.Anna).Value);
        desk.Watched.Look();
        Assert.Same(FolderNow.None, films.Now);
    }
}
