using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Accounts;

public enum DecisionKind
{
    /// <summary>Work may start although the deposit is not paid.</summary>
    StartWithoutDeposit,

    /// <summary>The car may go although the customer still owes something.</summary>
    HandOverWithBalance,
}

/// <summary>What the owner decided about money that is not there yet.</summary>
/// <param name="OpenMinor">What was missing when it was decided.</param>
public sealed record MoneyDecision(DecisionKind Kind, long OpenMinor, string Reason, DateTimeOffset At, PersonId? By);

public sealed partial class JobAccount
{
    /// <summary>Asked for by the accepted quote, minor units; 0 where none is asked for.</summary>
    public long DepositMinor { get; private set; }

    /// <summary>Work waits until the deposit is paid.</summary>
    public bool DepositFirst { get; private set; }

    public IReadOnlyList<MoneyDecision> Decisions { get; private set; } = [];

    /// <summary>What is missing of the deposit; work or goods in exchange do not count towards it.</summary>
    public long DepositMissingMinor => Math.Max(0, Math.Min(DepositMinor, ChargedMinor) - PaidMinor);

    /// <summary>True where work may not start for want of the deposit.</summary>
    public bool WaitsForDeposit =>
        DepositFirst && DepositMissingMinor > 0 && !Decisions.Any(d => d.Kind == DecisionKind.StartWithoutDeposit);

    /// <summary>Sets whether work waits for the deposit.</summary>
    public Outcome<Done> WaitForDeposit(bool first)
    {
        if (first && DepositMinor == 0)
        {
            return Failure.Because("noDeposit", "The quote asks for no deposit, so there is none to wait for.");
        }

        DepositFirst = first;
        return Outcome.Ok;
    }

    /// <summary>The owner lets work start without the deposit.</summary>
    public Outcome<MoneyDecision> StartWithoutDeposit(string reason, DateTimeOffset at, PersonId? by) =>
        WaitsForDeposit
            ? Decide(new MoneyDecision(DecisionKind.StartWithoutDeposit, DepositMissingMinor, reason, at, by))
            : Failure.Because("notWaiting", "This job does not wait for its deposit; there is nothing to waive.");

    /// <summary>The owner lets the car go with a balance due. Holds for the balance of that moment: where more is owed later it is decided again.</summary>
    public Outcome<MoneyDecision> HandOverWithBalance(string reason, DateTimeOffset at, PersonId? by) =>
        BalanceMinor > 0
            ? Decide(new MoneyDecision(DecisionKind.HandOverWithBalance, BalanceMinor, reason, at, by))
            : Failure.Because("settled", "The customer owes nothing on this job; the car may go without a decision.");

    /// <summary>What lifts a refusal for want of <see cref="MayGo"/>, said wherever something waits for it.</summary>
    public const string HowItMayGo =
        "The front desk takes the payment on the job's account, or the owner decides there that it may go with a balance due.";

    /// <summary>True where nothing is owed, or not more than the owner has decided to wait for.</summary>
    public bool MayGo =>
        BalanceMinor <= 0
        || Decisions.Any(d => d.Kind == DecisionKind.HandOverWithBalance && d.OpenMinor >= BalanceMinor);

    private MoneyDecision Decide(MoneyDecision decision)
    {
        Decisions = [.. Decisions, decision];
        return decision;
    }
}
