namespace Secondpass.Screen;

/// <summary>What processes hold in memory; pages that several share count in parts (Linux, /proc/PID/smaps_rollup).</summary>
internal static class Memory
{
    /// <summary>Megabytes that all processes hold whose command line has a text in it.</summary>
    public static double MegabytesOf(string text)
    {
        var kilobytes = 0L;
        foreach (var folder in Directory.GetDirectories("/proc"))
        {
            try
            {
                if (File.ReadAllText(Path.Combine(folder, "cmdline")).Contains(text, StringComparison.Ordinal))
                {
                    var line = File.ReadLines(Path.Combine(folder, "smaps_rollup")).First(one => one.StartsWith("Pss:", StringComparison.Ordinal));
                    kilobytes += long.Parse(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1], CultureInfo.InvariantCulture);
                }
            }
            catch (IOException)
            {
                // Not a process, or one that has just ended.
            }
        }

        return kilobytes / 1024.0;
    }
}
