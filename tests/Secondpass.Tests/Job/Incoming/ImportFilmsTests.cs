using Secondpass.Domain.Cases;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;
using Secondpass.Tests.Job.Cases;
using Secondpass.Tests.Radiographs.Identify;
using Secondpass.Tests.Records;
using SkiaSharp;

namespace Secondpass.Tests.Job.Incoming;

public sealed class ImportFilmsTests : IDisposable
{
    private readonly CaseDesk desk = new();
    private readonly TemporaryFolder old = new();

    public void Dispose()
    {
        desk.Dispose();
        old.Dispose();
    }

    [Fact]
    public async Task A_folder_of_old_films_is_looked_at_in_a_table_and_nothing_is_stored_before_it_is_said()
    {
        var (anna, _) = (Open("16", "4711", "Anna Bird"), Open("26", "4711", "Anna Bird"));
        var ben = Open("36", "4712", "Ben Finch");
        Write("1-anna-16.dcm", NamedFilm.Of("Bird^Anna", "4711", "19610304", "16", "20190304", shade: 1));
        Write("2-anna-no-tooth.dcm", NamedFilm.Of("Bird^Anna", "4711", shade: 2));
        Write("3-not-ben.dcm", NamedFilm.Of("Bird^Ben", "4712", tooth: "36", shade: 3));
        Write("4-born-otherwise.dcm", NamedFilm.Of("Finch^Ben", "4712", "19710305", "36", shade: 4));
        Write("5-nobody.dcm", NamedFilm.Of(shade: 5));
        Write("6-copy-of-1.dcm", NamedFilm.Of("Bird^Anna", "4711", "19610304", "16", "20190304", shade: 1));
        Write("7-notes.txt", "not a film"u8.ToArray());
        Write(Path.Combine("8", "there-already.dcm"), NamedFilm.Of(shade: 8));
        anna = desk.Films.Attach(anna.Id, anna.Version, desk.Films.TakeIn([new SentFile("x", NamedFilm.Of(shade: 8))]).Value, FilmsDesk.Before, Confirmation.None, CaseDesk.Ben).Value;

        var import = desk.Imports.Begin(old.Path).Value;
        await import.Finished();

        Assert.Equal((ImportState.Ready, 8), (import.Now.State, import.FileCount));
        var rows = import.Now.Rows;
        Assert.Equal(
            [anna.Id, null, null, null, null, null, null, null],
            rows.Select(row => row.Case));
        Assert.Equal(new DateTime(2019, 3, 4, 0, 0, 0, DateTimeKind.Unspecified), rows[0].Stated.TakenAt);
        Assert.Equal(["The film says born on 5 March 1971, the case on 4 March 1961."], rows[3].Differences);
        Assert.Equal("1-anna-16.dcm", rows[5].SameAs);
        Assert.Equal("not_a_film", rows[6].Unreadable!.Code);
        Assert.Equal((anna.Id, "4711"), (rows[7].InCase!.Id, rows[7].InCase!.PatientNumber));
        Assert.Equal(5, rows.Count(row => row.MayBeStored));
        Assert.Equal(8, Directory.GetFiles(old.Path, "*", SearchOption.AllDirectories).Length);
        Assert.Single(Directory.GetFiles(Path.Combine(desk.Store.Folder, "films"), "*", SearchOption.AllDirectories));

        var taken = new FilmTaken(FilmMoment.Recall, TubeShift.Straight);
        Assert.Equal(2, import.Store(new Dictionary<int, ImportChoice> { [0] = new(anna.Id, taken), [2] = new(ben.Id, taken), [5] = new(anna.Id, taken), [6] = new(anna.Id, taken) }, CaseDesk.Anna).Value);
        await import.Finished();

        Assert.Equal(ImportState.Done, import.Now.State);
        Assert.Equal(anna.Id, import.Now.Rows[0].Outcome!.Stored!.Id);
        Assert.Equal("no_case_chosen", import.Now.Rows[1].Outcome!.Refusal!.Code);
        Assert.Equal("film_of_another", import.Now.Rows[2].Outcome!.Refusal!.Code);
        Assert.Equal("If it belongs to this case all the same, choose its file under Films and photographs of the case, and say why.", import.Now.Rows[2].Outcome!.Refusal!.Remedy);
        Assert.Null(import.Now.Rows[5].Outcome);
        Assert.Equal([FilmMoment.Before, FilmMoment.Recall], desk.Store.Cases.Read(anna.Id).Value.Films.Select(film => film.Moment));
        Assert.Empty(desk.Store.Cases.Read(ben.Id).Value.Films);
        Assert.Equal("import_not_ready", import.Store(new Dictionary<int, ImportChoice> { [1] = new(anna.Id, taken) }, CaseDesk.Anna).Refusal.Code);
    }

    [Fact]
    public async Task Imported_again_no_film_is_stored_twice()
    {
        var it = Open("16", "4711", "Anna Bird");
        for (var film = 0; film < 4; film++)
        {
            Write($"{film}.dcm", NamedFilm.Of("Bird^Anna", "4711", tooth: "16", shade: (ushort)(film + 1)));
        }

        Assert.Equal(4, await ImportAll());
        Assert.Equal(0, await ImportAll());
        Assert.Equal(4, desk.Store.Cases.Read(it.Id).Value.Films.Count);
    }

    [Fact]
    public async Task What_somebody_attached_since_the_table_was_made_and_a_file_that_changed_are_said_and_passed_over()
    {
        var it = Open("16", "4711", "Anna Bird");
        Write("1.dcm", NamedFilm.Of(shade: 1));
        Write("2.dcm", NamedFilm.Of(shade: 2));
        Write("3.dcm", NamedFilm.Of(shade: 3));
        var import = desk.Imports.Begin(old.Path).Value;
        await import.Finished();
        it = desk.Films.Attach(it.Id, it.Version, desk.Films.TakeIn([new SentFile("1.dcm", NamedFilm.Of(shade: 1))]).Value, FilmsDesk.Before, Confirmation.None, CaseDesk.Ben).Value;
        Write("2.dcm", NamedFilm.Of(shade: 4));
        File.Delete(old.Of("3.dcm"));

        import.Store(Enumerable.Range(0, 3).ToDictionary(place => place, _ => new ImportChoice(it.Id, FilmsDesk.Before)), CaseDesk.Anna);
        await import.Finished();

        Assert.Equal(["film_attached_already", "film_changed", "file_gone"], import.Now.Rows.Select(row => row.Outcome!.Refusal!.Code));
        Assert.Single(desk.Store.Cases.Read(it.Id).Value.Films);
    }

    [Fact]
    public async Task Stopped_while_it_looks_nothing_is_stored_and_it_says_so()
    {
        for (var film = 0; film < 30; film++)
        {
            Write($"{film}.dcm", NamedFilm.Of(shade: (ushort)(film + 1)));
        }

        var import = desk.Imports.Begin(old.Path).Value;
        import.Stop();
        await import.Finished();

        Assert.True(import.Now.WasStopped);
        Assert.Equal(ImportState.Done, import.Now.State);
        Assert.False(import.Store(new Dictionary<int, ImportChoice> { [0] = new(Open("16", "4711", null).Id, FilmsDesk.Before) }, CaseDesk.Anna).IsGiven);
    }

    [Fact]
    public async Task Stopped_when_all_was_looked_at_nothing_is_stored_either()
    {
        Write("one.dcm", NamedFilm.Of(shade: 1));
        var import = desk.Imports.Begin(old.Path).Value;
        await import.Finished();
        Assert.Equal(ImportState.Ready, import.Now.State);

        import.Stop();

        Assert.Equal(ImportState.Done, import.Now.State);
        Assert.False(import.Store(new Dictionary<int, ImportChoice> { [0] = new(Open("16", "4711", null).Id, FilmsDesk.Before) }, CaseDesk.Anna).IsGiven);
    }

    [Fact]
    public async Task Several_dropped_files_are_imported_like_a_folder()
    {
        var it = Open("16", "4711", "Anna Bird");
        var import = desk.Imports.Begin([new SentFile("a.dcm", NamedFilm.Of("Bird^Anna", "4711", tooth: "16")), new SentFile("b.txt", "x"u8.ToArray())]).Value;
        await import.Finished();
        Assert.Equal([it.Id, null], import.Now.Rows.Select(row => row.Case));
        Assert.Same(import, desk.Imports.Find(import.Id).Value);
        Assert.Equal("import_not_here", desk.Imports.Find("none").Refusal.Code);
    }

    [Fact]
    public async Task A_film_that_can_be_imported_is_shown_small_unless_its_file_became_another()
    {
        Write("1.dcm", NamedFilm.Of(shade: 1));
        Write("2-notes.txt", "not a film"u8.ToArray());
        var import = desk.Imports.Begin(old.Path).Value;
        await import.Finished();

        using (var shown = SKBitmap.Decode(import.Picture(0).Value.Span))
        {
            Assert.NotNull(shown);
        }

        Assert.Equal("no_picture_of_import", import.Picture(1).Refusal.Code);
        Assert.Equal("no_picture_of_import", import.Picture(2).Refusal.Code);
        Write("1.dcm", NamedFilm.Of(shade: 2));
        Assert.Equal("“1.dcm” was changed since it was looked at.", import.Picture(0).Refusal.Reason);
    }

    [Fact]
    public void What_is_no_folder_or_holds_nothing_or_too_much_is_refused_with_what_to_do()
    {
        Assert.Equal("no_folder", desk.Imports.Begin(" ").Refusal.Code);
        Assert.Equal("no_such_folder", desk.Imports.Begin(old.Of("none")).Refusal.Code);
        Assert.Equal("folder_of_data", desk.Imports.Begin(desk.Store.Folder).Refusal.Code);
        Assert.Equal($"There is no file in “{old.Path}”.", desk.Imports.Begin(old.Path).Refusal.Reason);
        for (var file = 0; file <= 1000; file++)
        {
            File.Create(old.Of($"{file}")).Dispose();
        }

        Assert.Equal($"There are 1001 files in “{old.Path}”; 1000 is the most of one import.", desk.Imports.Begin(old.Path).Refusal.Reason);
    }

    private async Task<int> ImportAll()
    {
        var import = desk.Imports.Begin(old.Path).Value;
        await import.Finished();
        import.Store(import.Now.Rows.Index().Where(row => row.Item.Case is not null).ToDictionary(row => row.Index, row => new ImportChoice(row.Item.Case!.Value, FilmsDesk.Before)), CaseDesk.Anna);
        await import.Finished();
        return import.Now.Rows.Count(row => row.Outcome?.Stored is not null);
    }

    private void Write(string name, byte[] bytes)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(old.Of(name))!);
        File.WriteAllBytes(old.Of(name), bytes);
    }

    private DentalCase Open(string tooth, string number, string? name)
    {
        var referral = CaseDesk.Referral(tooth, number);
        (referral.PatientName, referral.PatientBorn) = (name, "1961-03-04");
        return desk.Opening.Open(referral, null, CaseDesk.Anna).Value;
    }
}
