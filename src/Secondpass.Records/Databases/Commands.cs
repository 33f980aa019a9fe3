using System.Data.Common;
using System.Globalization;

namespace Secondpass.Records.Databases;

/// <summary>Short forms for a statement with its values.</summary>
internal static class Commands
{
    /// <summary>A statement in a transaction, with its values by name.</summary>
    public static DbCommand Command(this DbTransaction transaction, string sql, params ReadOnlySpan<(string Name, object Value)> values)
    {
        var command = Command(transaction.Connection!, sql, values);
        command.Transaction = transaction;
        return command;
    }

    /// <summary>A statement outside a transaction, with its values by name.</summary>
    public static DbCommand Command(this DbConnection connection, string sql, params ReadOnlySpan<(string Name, object Value)> values)
    {
        var command = connection.CreateCommand();
#pragma warning disable CA2100 // every caller passes a constant or a migration that is part of this assembly
        command.CommandText = sql;
#pragma warning restore CA2100
        foreach (var (name, value) in values)
        {
            var parameter = command.CreateParameter();
            parameter.ParameterName = name;
            parameter.Value = value;
            command.Parameters.Add(parameter);
        }

        return command;
    }

    /// <summary>Runs a statement that returns nothing.</summary>
    public static int Execute(this DbTransaction transaction, string sql, params ReadOnlySpan<(string Name, object Value)> values)
    {
        using var command = transaction.Command(sql, values);
        return command.ExecuteNonQuery();
    }

    /// <summary>Runs a statement that finds one number.</summary>
    public static long Number(this DbTransaction transaction, string sql, params ReadOnlySpan<(string Name, object Value)> values)
    {
        using var command = transaction.Command(sql, values);
        return Convert.ToInt64(command.ExecuteScalar(), CultureInfo.InvariantCulture);
    }

    /// <summary>Runs a statement and reads what it finds, row by row.</summary>
    /// <typeparam name="T">What a row becomes.</typeparam>
    public static IReadOnlyList<T> Rows<T>(this DbTransaction transaction, string sql, Func<DbDataReader, T> read, params ReadOnlySpan<(string Name, object Value)> values)
    {
        using var command = transaction.Command(sql, values);
        using var reader = command.ExecuteReader();
        var rows = new List<T>();
        while (reader.Read())
        {
            rows.Add(read(reader));
        }

        return rows;
    }
}
