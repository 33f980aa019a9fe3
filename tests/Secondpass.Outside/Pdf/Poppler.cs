using System.Diagnostics;

namespace Secondpass.Outside.Pdf;

/// <summary>Reads a PDF with the poppler tools (Debian package poppler-utils), which share no code with what writes ours.</summary>
internal static class Poppler
{
    /// <summary>What a poppler tool prints about a document.</summary>
    /// <param name="tool">Such as <c>pdftotext</c>.</param>
    /// <param name="pdf">The document.</param>
    /// <param name="arguments">Arguments; "{pdf}" stands for the document's file.</param>
    public static string Run(string tool, byte[] pdf, params string[] arguments)
    {
        var file = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".pdf");
        File.WriteAllBytes(file, pdf);
        try
        {
            var start = new ProcessStartInfo(tool) { RedirectStandardOutput = true, RedirectStandardError = true, StandardOutputEncoding = System.Text.Encoding.UTF8 };
            foreach (var argument in arguments)
            {
                start.ArgumentList.Add(argument.Replace("{pdf}", file, StringComparison.Ordinal));
            }

            using var process = Process.Start(start)!;
            var errors = process.StandardError.ReadToEndAsync();
            var printed = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            Assert.Equal(string.Empty, errors.Result);
            Assert.Equal(0, process.ExitCode);
            return printed;
        }
        finally
        {
            File.Delete(file);
        }
    }
}
