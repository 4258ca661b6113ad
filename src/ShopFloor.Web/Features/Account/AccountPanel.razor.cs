using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Quotes;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Account;

/// <summary>A job's account, to read and to book on.</summary>
public partial class AccountPanel(
    GetAccount get,
    TakeDeposit takeDeposit,
    TakePayment takePayment,
    GiveRefund giveRefund,
    TakeTradeCredit takeTradeCredit,
    ReverseEntry reverseEntry
)
{
    private static readonly (EntryKind Kind, string Word)[] Doings =
    [
        (EntryKind.Deposit, "Deposit"),
        (EntryKind.Payment, "Payment"),
        (EntryKind.Refund, "Refund"),
        (EntryKind.TradeCredit, "Work or goods in exchange"),
    ];

    private static readonly Choice<string>.Option[] Methods =
    [
        new("cash", "Cash"),
        new("card", "Card"),
        new("bankTransfer", "Bank transfer"),
        new("cheque", "Cheque"),
    ];

    private AccountView? account;
    private IReadOnlyList<FieldError> errors = [];
    private EntryKind? doing;
    private LedgerEntryId? reversing;
    private TypedFields? typed;
    private long? amount;
    private string? method;
    private string? reference;
    private string? text;
    private string? givenBy;
    private string? takenBy;
    private DateOnly? on;
    private string key = NewKey();
    private bool isSaving;

    [Parameter, EditorRequired]
    public JobId JobId { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await get.RunAsync(JobId, Actor, Closing);
        account = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.JobId == JobId.Value && notice.Subject is "account" or "invoice";

    private static string Word(EntryKind kind) => Doings.First(d => d.Kind == kind).Word;

    private void Begin(EntryKind kind)
    {
        doing = doing == kind ? null : kind;
        reversing = null;
        errors = [];
        text = reference = givenBy = takenBy = null;
        // What is usually meant: the deposit asked for, the whole balance, what is owed back.
        amount = kind switch
        {
            EntryKind.Deposit => Math.Min(account!.DepositMissingMinor, Math.Max(0, account.BalanceMinor)),
            EntryKind.Payment => Math.Max(0, account!.BalanceMinor),
            EntryKind.Refund => Math.Max(0, -account!.BalanceMinor),
            _ => null,
        };
        amount = amount == 0 ? null : amount;
    }

    private async Task BookAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        var money = new MoneyRequest(JobId, amount, method, reference, on, text);
        var outcome = await BusyAsync(() =>
            doing switch
            {
                EntryKind.Deposit => takeDeposit.RunAsync(money, Here(), Closing),
                EntryKind.Payment => takePayment.RunAsync(money, Here(), Closing),
                EntryKind.Refund => giveRefund.RunAsync(money, Here(), Closing),
                _ => takeTradeCredit.RunAsync(
                    new TakeTradeCredit.Request(JobId, amount, text, on, givenBy, takenBy),
                    Here(),
                    Closing
                ),
            }
        );
        Take(outcome, "Booked.");
    }

    private async Task ReverseAsync(LedgerEntryId entry) =>
        Take(
            await BusyAsync(() => reverseEntry.RunAsync(new ReverseEntry.Request(JobId, entry, text), Here(), Closing)),
            "Taken back."
        );

    private async Task WrittenAsync()
    {
        // The next booking is another command, so it needs a key of its own.
        key = NewKey();
        await ReloadAsync();
    }

    private void Take(Outcome<AccountView> outcome, string done)
    {
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        key = NewKey();
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var view, done))
        {
            account = view;
            doing = null;
            reversing = null;
            amount = null;
            on = null;
        }
    }

    private Envelope Here() => Envelope(key);

    private async Task<T> BusyAsync<T>(Func<Task<T>> act)
    {
        isSaving = true;
        try
        {
            return await act();
        }
        finally
        {
            isSaving = false;
        }
    }

    private void ReadDay(string? typed) =>
        on = DateOnly.TryParseExact(typed, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? day
            : null;

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private string Money(long minor) => QuoteWords.Money(minor, account!.Currency);

    private static string About(EntryView entry) =>
        string.Join(
            " · ",
            new[]
            {
                entry.Description == MoneyWords.Of(entry.Kind) ? null : entry.Description,
                entry.Reference,
                entry.GivenBy is null ? null : $"given by {entry.GivenBy}",
                entry.TakenBy is null ? null : $"taken by {entry.TakenBy}",
                entry.RecordedBy is null ? null : $"by {entry.RecordedBy}",
            }.OfType<string>()
        );
}
