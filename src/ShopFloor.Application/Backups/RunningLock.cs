namespace ShopFloor.Application.Backups;

/// <summary>A file in the data folder that running programs hold together and a restore holds alone. The system lets go of it when a program ends, however it ends.</summary>
public static class RunningLock
{
    private const string Name = ".running";

    /// <summary>Held while a program serves the shop from this folder.</summary>
    /// <exception cref="BackupException">A backup is being restored there.</exception>
    public static IDisposable Share(string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
            return new FileStream(Path.Combine(folder, Name), FileMode.OpenOrCreate, FileAccess.Read, FileShare.Read);
        }
        catch (IOException exception)
        {
            throw new BackupException(
                "A backup is being restored right now: start again when that is done.",
                exception
            );
        }
    }

    /// <exception cref="BackupException">A program serves the shop from this folder.</exception>
    internal static FileStream TakeAlone(string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
            return new FileStream(
                Path.Combine(folder, Name),
                FileMode.OpenOrCreate,
                FileAccess.ReadWrite,
                FileShare.None
            );
        }
        catch (IOException exception)
        {
            throw new BackupException("The program is running: stop it first, then restore.", exception);
        }
    }
}
