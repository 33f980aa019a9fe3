using System.Data.Common;
using Secondpass.Domain;

namespace Secondpass.Records.Databases;

/// <summary>Where events and projections are kept: what differs between one database and another, and nothing else.</summary>
internal interface IDatabase : IDisposable
{
    /// <summary>How it is called in sentences for people; never holds a password.</summary>
    string Name { get; }

    /// <summary>The folder of this assembly that holds its numbered steps.</summary>
    string Dialect { get; }

    /// <summary>An open connection; the caller disposes it.</summary>
    DbConnection Connect();

    /// <summary>A transaction in which nobody else writes. Waits for other writers a few seconds.</summary>
    DbTransaction BeginWrite(DbConnection connection);

    /// <summary>A transaction that reads one state of everything.</summary>
    DbTransaction BeginRead(DbConnection connection);

    /// <summary>Whether there is a table of this name.</summary>
    bool HasTable(DbConnection connection, string table);

    /// <summary>Copies everything aside, before steps are taken that change its shape.</summary>
    /// <param name="connection">An open connection outside a transaction.</param>
    /// <param name="reached">The step that it stands at; goes into the copy's name.</param>
    /// <param name="now">The time; goes into the copy's name.</param>
    void CopyBefore(DbConnection connection, int reached, DateTimeOffset now);

    /// <summary>Makes sure, with the transaction that destroys keys, that they don't linger in the file of their table.</summary>
    /// <param name="transaction">The transaction, in which keys were deleted.</param>
    /// <returns>Null; or the refusal where somebody reads them just now: the transaction must not be completed then.</returns>
    Refusal? ScrubKeys(DbTransaction transaction);

    /// <summary>Empties the log of changes, which may hold a destroyed key, once the transaction is complete; a server writes its own over in time.</summary>
    void EmptyLog();

    /// <summary>The refusal that a failure amounts to, or null when it is a defect.</summary>
    Refusal? RefusalFrom(Exception failure);
}
