namespace ShopFloor.Application.Backups;

/// <summary>A backup cannot be made or read: the message is one sentence for the person who asked, without anything secret.</summary>
public sealed class BackupException : Exception
{
    public BackupException() { }

    public BackupException(string message)
        : base(message) { }

    public BackupException(string message, Exception inner)
        : base(message, inner) { }
}
