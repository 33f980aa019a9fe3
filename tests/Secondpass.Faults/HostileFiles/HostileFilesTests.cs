using Secondpass.Domain.Evidence;
using Secondpass.Radiographs.Read;

namespace Secondpass.Faults.HostileFiles;

public sealed class HostileFilesTests
{
    private const int FilesPerSeed = 1000;

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

        Assert.Equal(40, Seed.All.Count);
        Assert.Empty(refused);
    }

    [Fact]
    public void Only_an_answer_leaves_the_reader_whatever_the_bytes_and_memory_stays_bounded()
    {
        var (given, codes) = (0, new SortedDictionary<string, int>());
        foreach (var seed in Seed.All)
        {
            for (var number = 0; number < FilesPerSeed; number++)
            {
                var file = Mutation.Of(seed, number);
                var before = GC.GetAllocatedBytesForCurrentThread();
                var code = Read(file, $"{seed.Name} number {number}");
                var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

                Assert.True(
                    allocated <= BytesInAnyCase + (BytesPerByte * file.Length),
                    $"{seed.Name} number {number}: {file.Length} bytes took {allocated} bytes of memory");
                given += code is null ? 1 : 0;
                codes[code ?? "read"] = codes.GetValueOrDefault(code ?? "read") + 1;
            }
        }

        // A harness whose files were all refused at the door, or all read, would have tested nothing behind it.
        Assert.InRange(given, Seed.All.Count * FilesPerSeed / 20, Seed.All.Count * FilesPerSeed * 3 / 4);
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

    private static string? Read(byte[] file, string what)
    {
        try
        {
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
