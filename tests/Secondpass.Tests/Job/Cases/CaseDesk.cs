using Secondpass.Domain.Cases;
using Secondpass.Job;
using Secondpass.Job.Cases;
using Secondpass.Job.Incoming;
using Secondpass.Records;
using Secondpass.Tests.Records;

namespace Secondpass.Tests.Job.Cases;

/// <summary>A store of its own, with all that a case is written by.</summary>
internal sealed class CaseDesk : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public CaseDesk()
    {
        Store = ClinicStore.Open(folder.Path, Clock).Value;
        Shelf = new FilmShelf(Store);
        Habits = new ClinicHabits(Store);
        Papers = new ReceivePaper(Store);
        var receive = new ReceiveFilm(Store, Shelf, new FilmsInUse(Clock));
        Films = new AttachFilm(Store, receive, Papers);
        Opening = new OpenCase(Store, Papers, Habits);
        Correcting = new CorrectCase(Store, Habits);
        Assessing = new AssessTooth(Store, Clock);
        Canals = new NoteCanals(Store, Films);
        Scans = new ReadScan(Store);
        Lengths = new NoteLength(Store);
        Measuring = new MeasureForCase(Store, Shelf);
        Drawing = new DrawOnFilm(Store, Shelf);
        Straightening = new StraightenFilm(Store, receive);
        Register = new CaseRegister(Store);
        Folders = new FilmsFolder(Store);
        Watched = new WatchFolder(Store, Clock);
        Incoming = new AttachNewFilm(Store, receive, Watched);
        Imports = new ImportFilms(Store, Incoming, Folders);
    }

    public SetClock Clock { get; } = new();

    public string Folder => folder.Path;

    public ClinicStore Store { get; }

    public FilmShelf Shelf { get; }

    public ClinicHabits Habits { get; }

    public ReceivePaper Papers { get; }

    public AttachFilm Films { get; }

    public OpenCase Opening { get; }

    public CorrectCase Correcting { get; }

    public AssessTooth Assessing { get; }

    public NoteCanals Canals { get; }

    public ReadScan Scans { get; }

    public NoteLength Lengths { get; }

    public MeasureForCase Measuring { get; }

    public DrawOnFilm Drawing { get; }

    public StraightenFilm Straightening { get; }

    public CaseRegister Register { get; }

    public FilmsFolder Folders { get; }

    public WatchFolder Watched { get; }

    public AttachNewFilm Incoming { get; }

    public ImportFilms Imports { get; }

    public static Writer Anna { get; } = new("Anna", "desk-1");

    public static Writer Ben { get; } = new("Ben", "desk-2");

    public static ReferralForm Referral(string tooth = "16", string number = "4711") => new() { PatientNumber = number, Tooth = tooth, Reason = "Pain on biting" };

    public DentalCase Open(string tooth = "16") => Opening.Open(Referral(tooth), null, Anna).Value;

    public void Dispose()
    {
        Store.Dispose();
        folder.Dispose();
    }
}
