using System.Data.Common;

namespace Secondpass.Records.Databases;

/// <summary>The few values that a store has of itself, by name.</summary>
internal static class StoreValues
{
    /// <summary>A value, or null when it was never set.</summary>
    public static string? Get(DbTransaction transaction, string name) =>
        transaction.Rows("SELECT value FROM store WHERE name = @name", row => row.GetString(0), ("@name", name)).SingleOrDefault();

    /// <summary>Sets a value.</summary>
    public static void Set(DbTransaction transaction, string name, string value) => transaction.Execute(
        "INSERT INTO store (name, value) VALUES (@name, @value) ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        ("@name", name),
        ("@value", value));

    /// <summary>A value; made and set when it never was.</summary>
    public static string GetOrSet(DbTransaction transaction, string name, Func<string> make)
    {
        if (Get(transaction, name) is { } found)
        {
            return found;
        }

        var made = make();
        Set(transaction, name, made);
        return made;
    }
}
