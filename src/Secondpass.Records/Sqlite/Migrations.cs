using System.Data.Common;
using System.Globalization;
using System.Reflection;

namespace Secondpass.Records.Sqlite;

/// <summary>The numbered steps by which the database reaches this version's shape; each is a file <c>NNN-name.sql</c> in this folder.</summary>
internal static class Migrations
{
    private static readonly (int Number, string Name)[] Known = [.. typeof(Migrations).Assembly
        .GetManifestResourceNames()
        .Where(name => name.EndsWith(".sql", StringComparison.Ordinal))
        .Order(StringComparer.Ordinal)
        .Select(name => (int.Parse(name.AsSpan(0, 3), NumberStyles.None, CultureInfo.InvariantCulture), name))];

    /// <summary>The number of the last step that this version knows.</summary>
    public static int Newest => Known[^1].Number;

    /// <summary>The last step that the database has taken; 0 for a new one.</summary>
    public static int Reached(DbConnection connection)
    {
        using var asked = connection.Command("SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = 'migrations'");
        if (Convert.ToInt64(asked.ExecuteScalar(), CultureInfo.InvariantCulture) == 0)
        {
            return 0;
        }

        using var newest = connection.Command("SELECT coalesce(max(number), 0) FROM migrations");
        return Convert.ToInt32(newest.ExecuteScalar(), CultureInfo.InvariantCulture);
    }

    /// <summary>Takes the steps that are missing, all in one transaction.</summary>
    /// <param name="transaction">A transaction that already holds the right to write.</param>
    /// <param name="utcTicks">The time to note beside each step.</param>
    public static void Run(DbTransaction transaction, long utcTicks)
    {
        transaction.Execute("CREATE TABLE IF NOT EXISTS migrations (number INTEGER PRIMARY KEY, name TEXT NOT NULL, utc_ticks INTEGER NOT NULL)");
        using var asked = transaction.Command("SELECT coalesce(max(number), 0) FROM migrations");
        var reached = Convert.ToInt32(asked.ExecuteScalar(), CultureInfo.InvariantCulture);
        foreach (var (number, name) in Known.Where(step => step.Number > reached))
        {
            transaction.Execute(Text(name));
            transaction.Execute(
                "INSERT INTO migrations (number, name, utc_ticks) VALUES (@number, @name, @ticks)",
                ("@number", number),
                ("@name", name),
                ("@ticks", utcTicks));
        }
    }

    private static string Text(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
