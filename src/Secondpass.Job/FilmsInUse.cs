namespace Secondpass.Job;

/// <summary>Which open pages show which films, so that nobody throws a film away under another: in memory only.</summary>
/// <remarks>Safe to call from several threads. A page says again and again what it shows; one that fell silent, as when a browser was closed, counts no more.</remarks>
/// <param name="time">The clock.</param>
public sealed class FilmsInUse(TimeProvider time)
{
    /// <summary>How long a page counts that says nothing more. Browsers let a page in the background speak once a minute at least.</summary>
    public static readonly TimeSpan SilentFor = TimeSpan.FromMinutes(5);

    private readonly Dictionary<(string Sha256, string Page), DateTimeOffset> taken = [];
    private readonly Lock changing = new();

    /// <summary>Notes that a page shows a film.</summary>
    /// <param name="sha256">The film.</param>
    /// <param name="page">What the page calls itself; nothing is noted of null.</param>
    public void Take(string sha256, string? page)
    {
        if (page is null)
        {
            return;
        }

        lock (changing)
        {
            ForgetTheSilent();
            taken[(sha256, page)] = time.GetUtcNow();
        }
    }

    /// <summary>Notes that a page shows a film no longer; nothing happens when it did not.</summary>
    /// <param name="sha256">The film.</param>
    /// <param name="page">What the page calls itself, or null.</param>
    public void LetGo(string sha256, string? page)
    {
        if (page is null)
        {
            return;
        }

        lock (changing)
        {
            taken.Remove((sha256, page));
        }
    }

    /// <summary>Whether any page shows a film.</summary>
    public bool Has(string sha256)
    {
        lock (changing)
        {
            ForgetTheSilent();
            return taken.Keys.Any(one => one.Sha256 == sha256);
        }
    }

    private void ForgetTheSilent()
    {
        var now = time.GetUtcNow();
        foreach (var (one, last) in taken.ToArray())
        {
            if (now - last > SilentFor)
            {
                taken.Remove(one);
            }
        }
    }
}
