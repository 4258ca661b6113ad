using System.Numerics;

namespace ShopFloor.Domain.Planning;

/// <summary>Quarter hours that are taken, one bit each: looking for the next free run steps over what is taken.</summary>
internal sealed class SlotSet(int slots)
{
    private readonly ulong[] words = new ulong[(slots + 63) / 64];

    public void Take(int from, int to)
    {
        for (var (word, mask, at) = First(from, to); at < to; (word, mask, at) = Next(word, to))
        {
            words[word] |= mask;
        }
    }

    public void Free(int from, int to)
    {
        for (var (word, mask, at) = First(from, to); at < to; (word, mask, at) = Next(word, to))
        {
            words[word] &= ~mask;
        }
    }

    public void CopyFrom(SlotSet other) => other.words.CopyTo(words, 0);

    public void Clear() => Array.Clear(words);

    public bool IsFree(int start, int count) => LastTaken(start, count) < 0;

    /// <summary>The last one taken of so many from a start; −1 where all are free.</summary>
    public int LastTaken(int start, int count)
    {
        var end = start + count;
        var first = start >> 6;
        for (var word = (end - 1) >> 6; word >= first; word--)
        {
            var bits = words[word] & Mask(word, start, end);
            if (bits != 0)
            {
                return (word << 6) + 63 - BitOperations.LeadingZeroCount(bits);
            }
        }

        return -1;
    }

    /// <summary>The first free one after the last that is taken; 0 where none is.</summary>
    public int AfterLast()
    {
        for (var word = words.Length - 1; word >= 0; word--)
        {
            if (words[word] != 0)
            {
                return (word << 6) + 64 - BitOperations.LeadingZeroCount(words[word]);
            }
        }

        return 0;
    }

    private static (int Word, ulong Mask, int At) First(int from, int to) =>
        from >= to ? (0, 0, to) : (from >> 6, Mask(from >> 6, from, to), from);

    private static (int Word, ulong Mask, int At) Next(int word, int to)
    {
        var at = (word + 1) << 6;
        return at >= to ? (word, 0, to) : (word + 1, Mask(word + 1, at, to), at);
    }

    /// <summary>Bits of a word that lie from a start to before an end.</summary>
    private static ulong Mask(int word, int start, int end)
    {
        var low = start - (word << 6);
        var high = end - (word << 6);
        var mask = low <= 0 ? ~0UL : ~0UL << low;
        return high >= 64 ? mask : mask & ~(~0UL << high);
    }
}
