using System.Diagnostics;
using Secondpass.Domain.Evidence;
using Secondpass.Radiographs.Identify;
using Secondpass.Radiographs.Read;

namespace Secondpass.Faults.HostileFiles;

public sealed class HostileFilesTests
{
    // A time that no film of a few kilobytes comes near, on a machine that does much else at once.
    private static readonly TimeSpan LongestTime = TimeSpan.FromSeconds(20);

    private static readonly int FilesPerSeed = Environment.GetEnvironmentVariable("SECONDPASS_LONG") is null ? 1000 : 25_000;

    // What one byte of a file can at most stand for: LZW gives 2560 bytes of picture for one (a code of 12 bits for 3838
    // bytes); each becomes a grey value of two bytes, beside the buffer it was unpacked to.
    private const long BytesPerByte = 8_000;

    // Tables, directories, messages, and the library's own buffers.
    private const long BytesInAnyCase = 4_000_000;

    private static readonly string[] Codes =
    [
        "empty_file", "not_a_film", "damaged_film", "unsupported_film", "several_frames", "no_picture",
        "film_too_large", "film_too_small", "blank_film",
    ];

    [Fact]
    public void Every_seed_is_a_sound_film()
    {
        var refused = Seed.All.Where(seed => !FilmReader.Read(seed.Bytes).IsGiven).Select(seed => seed.Name);

        Assert.Equal(45, Seed.All.Count);
        Assert.Empty(refused);
        Assert.NotNull(FilmReader.Read(Seed.All.Single(seed => seed.Name == "straightened.png").Bytes).Value.Photographed);
    }

    [Fact]
    public void Only_an_answer_leaves_the_reader_whatever_the_bytes_in_bounded_time_and_memory()
    {
        var (files, given, slowest) = (0, 0, TimeSpan.Zero);
        var codes = new SortedDictionary<string, int>();
        foreach (var seed in Seed.All)
        {
            for (var number = 0; number < FilesPerSeed; number++)
            {
                var file = Mutation.Of(seed, number);
                var before = GC.GetAllocatedBytesForCurrentThread();
                var began = Stopwatch.GetTimestamp();
                var code = Read(file, $"{seed.Name} number {number}");
                var took = Stopwatch.GetElapsedTime(began);
                var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

                Assert.True(
                    allocated <= BytesInAnyCase + (BytesPerByte * file.Length),
                    $"{seed.Name} number {number}: {file.Length} bytes took {allocated} bytes of memory");
                Assert.True(took <= LongestTime, $"{seed.Name} number {number}: {file.Length} bytes took {took}");
                slowest = took > slowest ? took : slowest;
                files++;
                given += code is null ? 1 : 0;
                codes[code ?? "read"] = codes.GetValueOrDefault(code ?? "read") + 1;
            }
        }

        TestContext.Current.TestOutputHelper?.WriteLine(
            $"{files} files, the slowest in {slowest.TotalMilliseconds:0} ms: {string.Join(", ", codes.Select(pair => $"{pair.Key} {pair.Value}"))}");

        // A harness whose files were all refused at the door, or all read, would have tested nothing behind it.
        Assert.InRange(given, files / 20, files * 3 / 4);
        Assert.True(codes.Count >= 7, string.Join(", ", codes));
    }

    [Fact]
    public void Every_file_cut_short_anywhere_gets_an_answer()
    {
        foreach (var seed in Seed.All)
        {
            for (var length = 0; length < seed.Bytes.Length; length += length < 600 ? 1 : 61)
            {
                Read(seed.Bytes[..length], $"{seed.Name} cut to {length}");
            }
        }
    }

    [Fact]
    public void A_PNG_JPEG_BMP_or_DICOM_film_cut_short_anywhere_is_never_read()
    {
        foreach (var seed in Seed.All.Where(seed => !seed.Name.EndsWith(".tif", StringComparison.Ordinal)))
        {
            // The last bytes may be padding or an end mark's second half, but the end mark itself must be whole; behind
            // packed pixels of a DICOM film stands an end mark of 8 bytes that holds none of them, behind deflated ones padding.
            var behind = seed.IsInPieces ? 9 : 1;
            for (var length = 0; length < seed.Bytes.Length - behind; length += length < 600 ? 1 : 61)
            {
                Assert.False(FilmReader.Read(seed.Bytes.AsMemory(0, length)).IsGiven, $"{seed.Name} cut to {length} was read");
            }
        }
    }

    [Fact]
    public void Random_bytes_behind_each_beginning_get_an_answer()
    {
        var random = new Random(4);
        byte[][] beginnings = [[], [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], [0xFF, 0xD8, 0xFF], [.. "II*\0"u8], [.. "MM\0*"u8], [.. new byte[128], .. "DICM"u8], [8, 0, 5, 0], [2, 0, 0, 0, .. "UL"u8]];
        for (var number = 0; number < 2000; number++)
        {
            var rest = new byte[random.Next(400)];
            random.NextBytes(rest);
            Read([.. beginnings[number % beginnings.Length], .. rest], $"random number {number}");
        }
    }

    // The header claims more than is read, or more than its bytes can hold: refused before anything of that size is allocated.
    [Fact]
    public void A_header_that_claims_a_huge_picture_takes_no_memory()
    {
        foreach (var seed in Seed.All.Where(seed => seed.Name != "deflated.dcm"))
        {
            foreach (var (width, height) in new[] { (60_000, 60_000), (20_000, 3_200), (8_000, 8_000), (20_001, 64), (0, 0), (65_535, 65_535) })
            {
                var file = (byte[])seed.Bytes.Clone();
                ClaimedSize.Write(seed, file, width, height);
                var before = GC.GetAllocatedBytesForCurrentThread();
                var code = Read(file, $"{seed.Name} claiming {width} × {height}");
                var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

                Assert.Contains(code, new[] { "film_too_large", "damaged_film", "unsupported_film" });
                Assert.True(allocated < 100_000, $"{seed.Name} claiming {width} × {height} took {allocated} bytes");
            }
        }
    }

    // 64 million zeros in 62 kB: within the limits, so it is unpacked, and then it is blank.
    [Fact]
    public void A_picture_packed_as_tightly_as_deflate_can_stays_within_the_limits()
    {
        var file = PackedPng.Of(8000, 8000);
        var before = GC.GetAllocatedBytesForCurrentThread();
        var code = Read(file, "8000 × 8000 zeros");
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.InRange(file.Length, 50_000, 80_000);
        Assert.Equal("blank_film", code);
        Assert.True(allocated < (2 * FilmReading.GreatestPixelCount.Value) + BytesInAnyCase, $"took {allocated} bytes");
    }

    // 300 million zeros in 3 MB behind a sound header: refused while they are counted, before room is made for them.
    [Fact]
    public void A_deflated_file_that_unpacks_to_more_than_any_film_takes_no_memory()
    {
        var file = Repacked.Of(Seed.All.Single(seed => seed.Name == "deflated.dcm"), content => [.. content, .. new byte[300_000_000]])!;
        var before = GC.GetAllocatedBytesForCurrentThread();
        var code = Read(file, "300 million deflated zeros");
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.InRange(file.Length, 200_000, 5_000_000);
        Assert.Equal("unsupported_film", code);
        Assert.True(allocated < (2 * file.Length) + BytesInAnyCase, $"took {allocated} bytes");
    }

    [Fact]
    public void A_deflated_header_that_claims_a_huge_picture_takes_no_memory()
    {
        foreach (var (width, height) in new[] { (60_000, 60_000), (8_000, 8_000), (0, 0) })
        {
            var file = Repacked.Of(Seed.All.Single(seed => seed.Name == "deflated.dcm"), content => Claiming(content, width, height))!;
            var before = GC.GetAllocatedBytesForCurrentThread();
            var code = Read(file, $"deflated, claiming {width} × {height}");
            var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

            Assert.Contains(code, new[] { "film_too_large", "damaged_film" });
            Assert.True(allocated < 300_000, $"deflated, claiming {width} × {height} took {allocated} bytes");
        }
    }

    private static byte[] Claiming(byte[] content, int width, int height)
    {
        ClaimedSize.WriteElement(content, 0x10, height);
        ClaimedSize.WriteElement(content, 0x11, width);
        return content;
    }

    private static string? Read(byte[] file, string what)
    {
        try
        {
            IdentityReader.Read(file);
            var answer = FilmReader.Read(file);
            if (answer.IsGiven)
            {
                Assert.Equal(answer.Value.Width * answer.Value.Height, answer.Value.Pixels.Length);
                return null;
            }

            Assert.Contains(answer.Refusal.Code, Codes);
            Assert.True(answer.Refusal.Reason.Length < 300 && answer.Refusal.Reason.EndsWith('.') && answer.Refusal.Remedy.EndsWith('.'), answer.Refusal.Reason);
            Assert.DoesNotContain(answer.Refusal.Reason, character => char.IsControl(character));
            return answer.Refusal.Code;
        }
        catch (Exception fault) when (fault is not Xunit.Sdk.IAssertionException)
        {
            throw new InvalidOperationException($"{what}: {fault.GetType().Name} left the reader", fault);
        }
    }
}
