namespace Secondpass.App;

/// <summary>How the workbench is started.</summary>
/// <param name="Port">The port to listen on; 0 for any free one; null for 5180 or the next free one.</param>
/// <param name="DataFolder">The data folder; null for the user's own, or for one apart from it with <paramref name="Demo"/>.</param>
/// <param name="Demo">Whether the invented examples are offered.</param>
/// <param name="StoreAddress">The address of a PostgreSQL database; null for one in the data folder. May hold a password: never shown.</param>
public sealed record ServeOptions(int? Port = null, string? DataFolder = null, bool Demo = false, string? StoreAddress = null)
{
    /// <inheritdoc/>
    public override string ToString() => DataFolder ?? string.Empty;
}
