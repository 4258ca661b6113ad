using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Quotes;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Account;

/// <summary>Writing invoices and credit notes of a job.</summary>
public partial class InvoicesPanel(IssueInvoice issueInvoice, CreditInvoice creditInvoice)
{
    private TypedFields? typed;
    private PartForm part = new();
    private IReadOnlyList<FieldError> errors = [];
    private InvoiceId? crediting;
    private DateOnly? suppliedOn;
    private string? reason;
    private string key = NewKey();
    private bool isWriting;
    private bool isSaving;

    [Parameter, EditorRequired]
    public AccountView Account { get; set; } = null!;

    /// <summary>An invoice or credit note was written.</summary>
    [Parameter]
    public EventCallback OnWritten { get; set; }

    private bool MayWrite => Actor.May(Permission.TakeMoney);

    /// <summary>Something is left; or nothing was charged, nothing invoiced, and the paper is wanted all the same.</summary>
    private bool CanInvoice => Account.NotInvoicedMinor > 0 || (Account.Invoices.Count == 0 && Account.Lines.Count > 0);

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    private IReadOnlyList<PartForm.Line> Choices() =>
        [
            .. Account
                .Lines.Where(l => l.LeftMinor > 0)
                .Select(l => new PartForm.Line(l.Key, l.Description, l.LeftMinor)),
        ];

    private static IReadOnlyList<PartForm.Line> Choices(InvoiceRow paper) =>
        [.. paper.Lines.Where(l => l.LeftMinor > 0).Select(l => new PartForm.Line(l.Key, l.Description, l.LeftMinor))];

    private void BeginInvoice()
    {
        Stop();
        isWriting = true;
    }

    private void BeginCredit(InvoiceRow paper)
    {
        var wasOpen = crediting == paper.Id;
        Stop();
        crediting = wasOpen ? null : paper.Id;
    }

    private void Stop()
    {
        (crediting, isWriting, errors, reason, suppliedOn) = (null, false, [], null, null);
        part = new PartForm();
    }

    private Task InvoiceAsync() =>
        WriteAsync(
            () =>
                issueInvoice.RunAsync(
                    new IssueInvoice.Request(
                        Account.JobId,
                        suppliedOn,
                        part.PercentOrNull,
                        part.AmountOrNull,
                        part.KeysOrNull
                    ),
                    Envelope(key),
                    Closing
                ),
            "The invoice was issued."
        );

    private Task CreditAsync(InvoiceRow paper) =>
        WriteAsync(
            () =>
                creditInvoice.RunAsync(
                    new CreditInvoice.Request(paper.Id, reason, part.AmountOrNull, part.KeysOrNull),
                    Envelope(key),
                    Closing
                ),
            "The credit note was written."
        );

    private async Task WriteAsync(Func<Task<Outcome<InvoiceRow>>> write, string done)
    {
        if (typed!.Refuse())
        {
            return;
        }

        if (part.Problem is { } problem)
        {
            errors = [problem];
            return;
        }

        isSaving = true;
        var outcome = await write();
        isSaving = false;
        // The next paper is another command, so it needs a key of its own.
        key = NewKey();
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out _, done))
        {
            Stop();
            await OnWritten.InvokeAsync();
        }
    }

    private void ReadDay(string? typed) =>
        suppliedOn = DateOnly.TryParseExact(
            typed,
            "yyyy-MM-dd",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var day
        )
            ? day
            : null;

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private string Money(long minor) => QuoteWords.Money(minor, Account.Currency);
}
