using System.Data.Common;
using System.Globalization;
using System.Reflection;

namespace Secondpass.Records.Databases;

/// <summary>The numbered steps by which a database reaches this version's shape; each is a file <c>NNN-name.sql</c> in the dialect's folder.</summary>
/// <remarks>Both dialects have the same steps: a number means the same tables and columns in each.</remarks>
internal sealed class Migrations
{
    private static readonly Assembly Here = typeof(Migrations).Assembly;

    private readonly IDatabase database;

    /// <summary>The steps of a database's dialect.</summary>
    public Migrations(IDatabase database)
    {
        this.database = database;
        Steps =
        [
            .. Here.GetManifestResourceNames()
                .Where(name => name.StartsWith(database.Dialect + "/", StringComparison.Ordinal))
                .Order(StringComparer.Ordinal)
                .Select(name => name[(database.Dialect.Length + 1)..])
                .Select(name => (int.Parse(name.AsSpan(0, 3), NumberStyles.None, CultureInfo.InvariantCulture), name)),
        ];
    }

    /// <summary>The steps in order: number and file name.</summary>
    public IReadOnlyList<(int Number, string Name)> Steps { get; }

    /// <summary>The number of the last step that this version knows.</summary>
    public int Newest => Steps[^1].Number;

    /// <summary>The last step that the database has taken; 0 for a new one.</summary>
    public int Reached(DbConnection connection)
    {
        if (!database.HasTable(connection, "migrations"))
        {
            return 0;
        }

        using var newest = connection.Command("SELECT coalesce(max(number), 0) FROM migrations");
        return Convert.ToInt32(newest.ExecuteScalar(), CultureInfo.InvariantCulture);
    }

    /// <summary>Takes the steps that are missing.</summary>
    /// <param name="transaction">A transaction that already holds the right to write.</param>
    /// <param name="utcTicks">The time to note beside each step.</param>
    /// <param name="last">The last step to take.</param>
    /// <returns>Whether any was missing.</returns>
    public bool Run(DbTransaction transaction, long utcTicks, int last)
    {
        transaction.Execute("CREATE TABLE IF NOT EXISTS migrations (number BIGINT PRIMARY KEY, name TEXT NOT NULL, utc_ticks BIGINT NOT NULL)");
        using var asked = transaction.Command("SELECT coalesce(max(number), 0) FROM migrations");
        var reached = Convert.ToInt32(asked.ExecuteScalar(), CultureInfo.InvariantCulture);
        var missing = Steps.Where(step => step.Number > reached && step.Number <= last).ToArray();
        foreach (var (number, name) in missing)
        {
            transaction.Execute(Text(name));
            transaction.Execute(
                "INSERT INTO migrations (number, name, utc_ticks) VALUES (@number, @name, @ticks)",
                ("@number", (long)number),
                ("@name", name),
                ("@ticks", utcTicks));
        }

        return missing.Length > 0;
    }

    private string Text(string name)
    {
        using var stream = Here.GetManifestResourceStream($"{database.Dialect}/{name}")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
