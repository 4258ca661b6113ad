using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Accounts;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Quotes;

namespace ShopFloor.Web.Features.Account;

/// <summary>Deposit rule and owner's decisions.</summary>
public partial class DecisionsPanel(SetDepositFirst setFirst, DecideOnMoney decide)
{
    private DecisionKind? kind;
    private string? reason;
    private string? problem;
    private string key = NewKey();
    private bool isSaving;

    [Parameter, EditorRequired]
    public AccountView Account { get; set; } = null!;

    [Parameter]
    public EventCallback<AccountView> OnDecided { get; set; }

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    private void Begin(DecisionKind chosen) => (kind, reason, problem) = (chosen, null, null);

    private async Task WaitAsync(bool first)
    {
        isSaving = true;
        var outcome = await setFirst.RunAsync(
            new SetDepositFirst.Request(Account.JobId, first),
            Envelope(key),
            Closing
        );
        await TakeAsync(outcome, first ? "Work waits for the deposit." : "Work does not wait for the deposit.");
    }

    private async Task DecideAsync()
    {
        isSaving = true;
        var request = new DecideOnMoney.Request(Account.JobId, reason);
        var outcome =
            kind == DecisionKind.StartWithoutDeposit
                ? await decide.StartWithoutDepositAsync(request, Envelope(key), Closing)
                : await decide.HandOverWithBalanceAsync(request, Envelope(key), Closing);
        await TakeAsync(outcome, "Decided.");
    }

    private async Task TakeAsync(Outcome<AccountView> outcome, string done)
    {
        isSaving = false;
        key = NewKey();
        problem = (outcome.Failure as Failure.Invalid)?.Errors[0].Text;
        if (problem is null && Accepted(outcome, out var account, done))
        {
            kind = null;
            await OnDecided.InvokeAsync(account);
        }
    }

    private string Money(long minor) => QuoteWords.Money(minor, Account.Currency);
}
