using Secondpass.Records.Films;

namespace Secondpass.Tests.Records;

public sealed class FileArchiveTests : IDisposable
{
    private readonly TemporaryFolder folder = new();
    private readonly SetClock clock = new();

    public void Dispose() => folder.Dispose();

    // FIPS 180-4, published example: SHA-256 of the three bytes "abc".
    [Fact]
    public void Keeps_a_file_untouched_under_its_SHA_256()
    {
        const string published = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        var archive = new FileArchive(folder.Path, clock);

        Assert.Equal(published, archive.Keep("abc"u8).Value);
        Assert.Equal("abc"u8.ToArray(), File.ReadAllBytes(folder.Of("ba", published)));
        Assert.Equal("abc"u8.ToArray(), archive.Read(published).Value);
    }

    [Fact]
    public void Keeps_the_same_bytes_once()
    {
        var archive = new FileArchive(folder.Path, clock);
        archive.Keep("abc"u8);
        archive.Keep("abc"u8);

        Assert.Single(Files());
    }

    [Fact]
    public void Refuses_a_stored_file_whose_content_changed_and_takes_the_right_one_again()
    {
        var archive = new FileArchive(folder.Path, clock);
        var sha256 = archive.Keep("abc"u8).Value;
        var place = folder.Of(sha256[..2], sha256);
        File.WriteAllText(place, "abd");

        var refusal = archive.Read(sha256).Refusal;
        Assert.Equal("film_damaged", refusal.Code);
        Assert.Equal($"The stored file “{place}” is not what was stored: its content changed.", refusal.Reason);
        Assert.Equal("Drop the film's file again, or put a copy of the data folder back from your backup.", refusal.Remedy);

        archive.Keep("abc"u8);
        Assert.Equal("abc"u8.ToArray(), archive.Read(sha256).Value);
    }

    [Theory]
    [InlineData("../secondpass.db")]
    [InlineData("")]
    [InlineData("BA7816BF8F01CFEA414140DE5DAE2223B00361A396177A9CB410FF61F20015AD")]
    [InlineData("..%2f..%2f..%2f..%2f..%2f..%2f..%2f..%2f..%2f..%2f..%2f..%2f..%2f")]
    public void Reads_and_removes_nothing_outside_its_names(string name)
    {
        var archive = new FileArchive(folder.Path, clock);
        File.WriteAllText(folder.Of("secondpass.db"), "store");

        archive.Remove(name);

        Assert.Equal("film_not_here", archive.Read(name).Refusal.Code);
        Assert.True(File.Exists(folder.Of("secondpass.db")));
    }

    // Linux's /dev/full answers every write with the error of a full disk (full(4)).
    [Fact]
    public void Says_that_the_disk_is_full_and_leaves_nothing_half_written()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Only Linux has a device that is always full.");
        var archive = new FileArchive(folder.Path, clock, path =>
        {
            File.WriteAllText(path, "half");
            return new FileStream("/dev/full", FileMode.Open, FileAccess.Write);
        });

        var refusal = archive.Keep(new byte[100_000]).Refusal;

        Assert.Equal("disk_full", refusal.Code);
        Assert.Equal($"The disk that holds “{folder.Path}” is full; nothing was stored.", refusal.Reason);
        Assert.Equal("Free some space and do it again; what was stored before is untouched.", refusal.Remedy);
        Assert.Empty(Files());
    }

    [Fact]
    public void Removes_what_an_interrupted_writing_left_behind()
    {
        var archive = new FileArchive(folder.Path, clock);
        var kept = archive.Keep("abc"u8).Value;
        File.WriteAllText(folder.Of("0123.part"), "half");

        archive.RemoveUnfinished();

        Assert.Equal([kept], Files().Select(Path.GetFileName));
    }

    private string[] Files() => Directory.GetFiles(folder.Path, "*", SearchOption.AllDirectories);
}
