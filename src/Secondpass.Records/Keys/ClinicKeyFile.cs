using System.Globalization;
using Secondpass.Domain;

namespace Secondpass.Records.Keys;

/// <summary>The file in the data folder that holds the clinic key, readable by its owner only.</summary>
/// <remarks>On Windows the rights are those of the folder, which a user's own application data has for that user alone.</remarks>
internal sealed class ClinicKeyFile(string folder)
{
    /// <summary>Its full path.</summary>
    public string Path { get; } = System.IO.Path.Combine(folder, "clinic.key");

    /// <summary>Takes rights to the file away from others where they have any.</summary>
    public void KeepToItsOwner()
    {
        if (File.Exists(Path) && !OperatingSystem.IsWindows() && File.GetUnixFileMode(Path) != OwnerOnly)
        {
            File.SetUnixFileMode(Path, OwnerOnly);
        }
    }

    /// <summary>Reads the key.</summary>
    /// <returns>The key, or null when there is no file; or a refusal: its groups are damaged.</returns>
    public (ClinicKey? Key, Refusal? Refusal) Read()
    {
        if (!File.Exists(Path))
        {
            return (null, null);
        }

        return RecoveryCode.Read(File.ReadAllText(Path)).TryGet(out var bytes, out var why)
            ? (new ClinicKey(bytes), null)
            : (null, StoreRefusals.KeyUnreadable(Path, why));
    }

    /// <summary>Writes a key where none is; another program may have been quicker, so read it afterwards.</summary>
    public void Write(ClinicKey key)
    {
        var part = System.IO.Path.Combine(folder, Identity.New() + ".part");
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = OwnerOnly;
        }

        try
        {
            using (var stream = new FileStream(part, options))
            using (var writer = new StreamWriter(stream))
            {
                writer.Write(RecoverySheet.Text(key));
                writer.Flush();
                stream.Flush(flushToDisk: true);
            }

            File.Move(part, Path, overwrite: false);
        }
        catch (IOException) when (File.Exists(Path))
        {
            // Another program was quicker: its key holds.
        }
        finally
        {
            File.Delete(part);
        }
    }

    /// <summary>Puts the file aside under a name that says when.</summary>
    public void PutAside(DateTimeOffset now)
    {
        if (File.Exists(Path))
        {
            File.Move(Path, string.Create(CultureInfo.InvariantCulture, $"{Path}.put-aside-{now:yyyyMMdd-HHmmss}"), overwrite: true);
        }
    }

    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite;
}
