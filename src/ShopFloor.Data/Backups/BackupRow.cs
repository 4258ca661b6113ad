using ShopFloor.Domain.Backups;

namespace ShopFloor.Data.Backups;

/// <summary>One attempt at a backup and what became of it. A restored database knows only those that were made before its own.</summary>
public sealed class BackupRow
{
    public const int LongestText = 400;

    public Guid Id { get; init; }
    public BackupReason Reason { get; init; }
    public DateTimeOffset StartedAt { get; init; }

    /// <summary>The time for which it was the one to be made: of several servers only one gets it. Null for those that nobody competes for.</summary>
    public string? Slot { get; set; }

    /// <summary>Null while it is being made, and for good where the program ended meanwhile.</summary>
    public DateTimeOffset? EndedAt { get; set; }

    /// <summary>Name of the archive without its folder; null until it is whole.</summary>
    public string? FileName { get; set; }

    /// <summary>Name of the machine in whose folder it lies.</summary>
    public required string Machine { get; init; }
    public long Bytes { get; set; }

    /// <summary>Whether a passphrase is needed to read it.</summary>
    public bool IsLocked { get; set; }

    /// <summary>What went wrong; null where nothing did.</summary>
    public string? Failure { get; set; }
}
