using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>Money taken or given back.</summary>
/// <param name="Minor">Over 0.</param>
/// <param name="Receipt">Number of the receipt written for it.</param>
public sealed record MoneyMoved(long Minor, PaymentMethod Method, string? Reference, string Receipt);

/// <summary>Work or goods taken in exchange.</summary>
/// <param name="Minor">The value both sides agreed, over 0.</param>
/// <param name="Description">What it was.</param>
/// <param name="GivenBy">Who gave it.</param>
/// <param name="TakenBy">Who took it for the shop.</param>
public sealed record GoodsTaken(long Minor, string Description, string GivenBy, string TakenBy, string Receipt);

public sealed partial class JobAccount
{
    public Outcome<LedgerEntry> TakeDeposit(EntryStamp stamp, MoneyMoved money) =>
        Take(stamp, EntryKind.Deposit, money);

    public Outcome<LedgerEntry> TakePayment(EntryStamp stamp, MoneyMoved money) =>
        Take(stamp, EntryKind.Payment, money);

    /// <summary>Gives money back, at most what was paid.</summary>
    public Outcome<LedgerEntry> Refund(EntryStamp stamp, MoneyMoved money, string reason)
    {
        ArgumentNullException.ThrowIfNull(money);
        if (CheckAmount(money.Minor) is { } wrong)
        {
            return wrong;
        }

        return money.Minor > PaidMinor
            ? Failure.Field(
                "amountMinor",
                $"{Text(money.Minor)} cannot be given back: {Text(PaidMinor)} has been paid on this job."
            )
            : Append(
                    stamp,
                    EntryKind.Refund,
                    reason,
                    [new(LedgerAccount.Customer, money.Minor), new(AccountOf(money.Method), -money.Minor)]
                )
                .WithMoney(money.Method, money.Reference, money.Receipt);
    }

    /// <summary>Books work or goods taken in exchange; a payment of another kind, so the tax on the job is not lowered.</summary>
    public Outcome<LedgerEntry> TakeTradeCredit(EntryStamp stamp, GoodsTaken goods)
    {
        ArgumentNullException.ThrowIfNull(goods);
        return (CheckAmount(goods.Minor) ?? CheckNotOver(goods.Minor)) is { } wrong
            ? wrong
            : TradeCredit(stamp, goods.Description, goods.Minor)
                .WithMoney(null, null, goods.Receipt)
                .Between(goods.GivenBy, goods.TakenBy);
    }

    /// <summary>The ledger's account of a way to pay.</summary>
    public static LedgerAccount AccountOf(PaymentMethod method) =>
        method switch
        {
            PaymentMethod.Cash => LedgerAccount.Cash,
            PaymentMethod.Card => LedgerAccount.Card,
            PaymentMethod.BankTransfer => LedgerAccount.Bank,
            PaymentMethod.Cheque => LedgerAccount.Cheque,
            _ => throw new ArgumentOutOfRangeException(nameof(method), method, "Unknown method."),
        };

    private Outcome<LedgerEntry> Take(EntryStamp stamp, EntryKind kind, MoneyMoved money)
    {
        ArgumentNullException.ThrowIfNull(money);
        if ((CheckAmount(money.Minor) ?? CheckNotOver(money.Minor)) is { } wrong)
        {
            return wrong;
        }

        return Append(
                stamp,
                kind,
                kind == EntryKind.Deposit ? "Deposit" : "Payment",
                [new(AccountOf(money.Method), money.Minor), new(LedgerAccount.Customer, -money.Minor)]
            )
            .WithMoney(money.Method, money.Reference, money.Receipt);
    }

    private LedgerEntry TradeCredit(EntryStamp stamp, string description, long minor) =>
        Append(
            stamp,
            EntryKind.TradeCredit,
            description,
            [new(LedgerAccount.TradeGoods, minor), new(LedgerAccount.Customer, -minor)]
        );

    private Failure? CheckNotOver(long minor) =>
        minor > BalanceMinor
            ? Failure.Field(
                "amountMinor",
                $"{Text(minor)} is more than the balance of {Text(Math.Max(0, BalanceMinor))}; take at most the balance."
            )
            : null;

    private static Failure? CheckAmount(long minor) =>
        minor switch
        {
            <= 0 => Failure.Field("amountMinor", "The amount must be over 0."),
            > TotalsRules.LargestMinor => Failure.Field(
                "amountMinor",
                $"The amount is too large; at most {TotalsRules.LargestMinor} minor units are kept."
            ),
            _ => null,
        };
}
