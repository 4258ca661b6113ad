namespace ShopFloor.Domain.Common;

/// <summary>An entity's identity: a version 7 <see cref="Guid"/> in a type of its own, so that a job's id cannot be handed in as a car's.</summary>
/// <typeparam name="TSelf">The id type itself.</typeparam>
public interface IEntityId<TSelf>
    where TSelf : struct, IEntityId<TSelf>
{
    /// <summary>The id as stored and as written in JSON.</summary>
    Guid Value { get; }

    /// <summary>Wraps a stored id.</summary>
    static abstract TSelf From(Guid value);
}

/// <summary>Makes new ids: version 7, so that they sort by the time they were made.</summary>
public static class Ids
{
    /// <summary>A new id stamped with the clock's time.</summary>
    public static TId New<TId>(TimeProvider clock)
        where TId : struct, IEntityId<TId> => TId.From(Guid.CreateVersion7(clock.GetUtcNow()));

    /// <summary>A new id stamped with the given time (used where a command already holds its time).</summary>
    public static TId New<TId>(DateTimeOffset at)
        where TId : struct, IEntityId<TId> => TId.From(Guid.CreateVersion7(at));
}
