using System.Numerics;

namespace ShopFloor.Domain.Routing;

/// <summary>A set of operation indices from 0 to 255, as a value.</summary>
internal readonly record struct OperationSet(ulong A, ulong B, ulong C, ulong D)
{
    public const int Capacity = 256;

    public bool IsEmpty => (A | B | C | D) == 0;

    public int Count =>
        BitOperations.PopCount(A) + BitOperations.PopCount(B) + BitOperations.PopCount(C) + BitOperations.PopCount(D);

    public static OperationSet Of(int index)
    {
        var bit = 1UL << (index & 63);
        return (index >> 6) switch
        {
            0 => new(bit, 0, 0, 0),
            1 => new(0, bit, 0, 0),
            2 => new(0, 0, bit, 0),
            3 => new(0, 0, 0, bit),
            _ => throw new ArgumentOutOfRangeException(nameof(index), index, "At most 256 operations fit."),
        };
    }

    public static OperationSet operator |(OperationSet x, OperationSet y) =>
        new(x.A | y.A, x.B | y.B, x.C | y.C, x.D | y.D);

    public static OperationSet operator &(OperationSet x, OperationSet y) =>
        new(x.A & y.A, x.B & y.B, x.C & y.C, x.D & y.D);

    public bool Contains(int index) => !(this & Of(index)).IsEmpty;

    public bool Overlaps(OperationSet other) => !(this & other).IsEmpty;

    public OperationSet Without(OperationSet other) => new(A & ~other.A, B & ~other.B, C & ~other.C, D & ~other.D);

    public OperationSet Without(int index) => Without(Of(index));

    public Enumerator GetEnumerator() => new(this);

    /// <summary>Walks the indices upward.</summary>
    public struct Enumerator(OperationSet set)
    {
        private OperationSet rest = set;

        public int Current { get; private set; }

        public bool MoveNext()
        {
            if (rest.IsEmpty)
            {
                return false;
            }

            Current =
                rest.A != 0 ? BitOperations.TrailingZeroCount(rest.A)
                : rest.B != 0 ? 64 + BitOperations.TrailingZeroCount(rest.B)
                : rest.C != 0 ? 128 + BitOperations.TrailingZeroCount(rest.C)
                : 192 + BitOperations.TrailingZeroCount(rest.D);
            rest = rest.Without(Current);
            return true;
        }
    }
}
