namespace ShopFloor.Domain.HotWork;

/// <summary>How a permit stands at one moment of the server's clock. Each state has just the data it can have.</summary>
public abstract record PermitStanding
{
    private PermitStanding() { }

    /// <summary>Opened, no spark yet; hot work may begin until the shift's end.</summary>
    public sealed record Open(DateTimeOffset ValidUntil) : PermitStanding;

    /// <summary>Somebody is at hot work.</summary>
    public sealed record HotWork(IReadOnlyList<HotSpell> Running) : PermitStanding;

    /// <summary>Hot work has stopped and the watch runs.</summary>
    public sealed record Watch(DateTimeOffset Since, DateTimeOffset Until) : PermitStanding;

    /// <summary>The time has passed; the watcher must look once more and confirm.</summary>
    public sealed record WatchOver(DateTimeOffset Since) : PermitStanding;

    /// <summary>Confirmed, or withdrawn before any spark.</summary>
    public sealed record Closed(DateTimeOffset At) : PermitStanding;
}

/// <summary>One spell of hot work under a permit, by the server's clock.</summary>
/// <param name="Operation">Which operation.</param>
/// <param name="Code">Its code on the route.</param>
/// <param name="Job">Whose.</param>
/// <param name="From">When the server learned of its start.</param>
/// <param name="Until">When the server learned of its stop; null while it runs.</param>
public sealed record HotSpell(
    Common.OperationId Operation,
    string Code,
    Common.JobId Job,
    DateTimeOffset From,
    DateTimeOffset? Until
);

/// <summary>The watch went from one person to another.</summary>
public sealed record WatcherChange(Common.PersonId From, Common.PersonId To, DateTimeOffset At);
