using Secondpass.Job.Cases;

namespace Secondpass.App.Api;

/// <summary>Files that came with a form, read into memory.</summary>
internal static class SentFiles
{
    /// <summary>The file of a field; null when none was chosen.</summary>
    /// <param name="context">The request.</param>
    /// <param name="name">The field's name.</param>
    public static async Task<SentFile?> One(HttpContext context, string name) => await All(context, name) is [var first, ..] ? first : null;

    /// <summary>All files of a field, in their order.</summary>
    /// <param name="context">The request.</param>
    /// <param name="name">The field's name.</param>
    public static async Task<IReadOnlyList<SentFile>> All(HttpContext context, string name)
    {
        ArgumentNullException.ThrowIfNull(context);
        if (!context.Request.HasFormContentType)
        {
            return [];
        }

        var files = new List<SentFile>();
        foreach (var file in (await context.Request.ReadFormAsync(context.RequestAborted)).Files.GetFiles(name))
        {
            if (file.Length > 0)
            {
                using var memory = new MemoryStream();
                await file.CopyToAsync(memory, context.RequestAborted);
                files.Add(new SentFile(file.FileName, memory.ToArray()));
            }
        }

        return files;
    }
}
