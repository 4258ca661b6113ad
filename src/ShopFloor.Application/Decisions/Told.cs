using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Decisions;

/// <summary>What is told to a customer whose language is not known here: which sentence, and what stands in its gaps. The page chooses the words.</summary>
public abstract record Told
{
    private Told() { }

    /// <summary>Words of the shop or of the customer; they are shown as they were written.</summary>
    public sealed record AsWritten(string Text) : Told;

    public sealed record OnDay(DateOnly Day) : Told;

    public sealed record Amount(Money Money) : Told;

    /// <summary>Parts of one sentence, one after another.</summary>
    public sealed record Several(IReadOnlyList<Told> Parts) : Told;

    /// <param name="Key">Of the sentence in the files of words.</param>
    public sealed record Sentence(string Key, IReadOnlyList<(string Gap, Told Filled)> Gaps) : Told;

    public static Told Of(string key, params (string Gap, Told Filled)[] gaps) => new Sentence(key, gaps);

    public static Told FromString(string text) => new AsWritten(text);

    public static Told FromDateOnly(DateOnly day) => new OnDay(day);

    public static Told FromMoney(Money money) => new Amount(money);

    public static implicit operator Told(string text) => FromString(text);

    public static implicit operator Told(DateOnly day) => FromDateOnly(day);

    public static implicit operator Told(Money money) => FromMoney(money);
}
