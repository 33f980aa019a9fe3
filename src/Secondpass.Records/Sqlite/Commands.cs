using System.Data.Common;

namespace Secondpass.Records.Sqlite;

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
}
