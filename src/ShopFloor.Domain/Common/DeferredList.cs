using System.Collections;

namespace ShopFloor.Domain.Common;

/// <summary>A list that is made when it is first read. For the parts of an explanation: a price follows every answer at the counter, and most of its lines are never opened.</summary>
/// <remarks><paramref name="make"/> must be pure: two readers at once may both call it, and one of the equal lists is kept.</remarks>
public sealed class DeferredList<T>(int count, Func<IReadOnlyList<T>> make) : IReadOnlyList<T>
{
    private IReadOnlyList<T>? made;

    /// <summary>Known before the list is made.</summary>
    public int Count => count;

    public T this[int index] => Made[index];

    private IReadOnlyList<T> Made => made ??= make();

    public IEnumerator<T> GetEnumerator() => Made.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
