using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Invoices what is agreed and not invoiced yet, all of it or a part: gapless number, content and hash frozen.</summary>
public sealed class IssueInvoice(CommandRunner runner) : IUseCase
{
    /// <param name="SuppliedOn">The day the work was finished; absent means today.</param>
    /// <param name="Percent">Of what is left; over 0 to 100, up to 4 decimals.</param>
    /// <param name="AmountMinor">Total with tax that the invoice shall come to.</param>
    /// <param name="Lines">Keys of agreed lines, each with all that is left of it. Of the three one at most; none of them means all that is left.</param>
    public sealed record Request(
        JobId JobId,
        DateOnly? SuppliedOn = null,
        decimal? Percent = null,
        long? AmountMinor = null,
        IReadOnlyList<string>? Lines = null
    );

    public Task<Outcome<InvoiceRow>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<InvoiceRow>(
            Permission.TakeMoney,
            envelope,
            request,
            async scope =>
            {
                // Two at once take turns, so that both never find the same work open.
                await MoneyDays.LockAsync(scope);
                if (await JobAccounts.FindAsync(scope.Db, request.JobId, scope.Cancellation) is not { } account)
                {
                    return Failure.Missing("job account");
                }

                if (scope.Stale(account) is { } stale)
                {
                    return stale;
                }

                var before = account.EntryCount;
                var papers = await InvoicePapers.OfJobAsync(scope.Db, account.Id, scope.Cancellation);
                var issued = account.Issue(
                    await InvoicePapers.StampAsync(scope, account, "I", request.SuppliedOn),
                    papers,
                    new BillPart(request.Percent, request.AmountMinor, request.Lines)
                );
                if (!issued.TryGet(out var invoice, out var failure))
                {
                    return failure;
                }

                InvoicePapers.Add(scope, account, invoice);
                JobAccounts.Append(scope, account, before);
                return InvoiceRow.Of(invoice, [invoice]);
            },
            ct
        );
}

/// <summary>Takes an invoice back by a credit note, whole or in part, with the reason.</summary>
public sealed class CreditInvoice(CommandRunner runner) : IUseCase
{
    /// <param name="AmountMinor">Total with tax that the credit note shall come to.</param>
    /// <param name="Lines">Keys of the invoice's lines. Neither of the two means all that was not credited yet.</param>
    public sealed record Request(
        InvoiceId InvoiceId,
        string? Reason,
        long? AmountMinor = null,
        IReadOnlyList<string>? Lines = null
    );

    public Task<Outcome<InvoiceRow>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<InvoiceRow>(
            Permission.TakeMoney,
            envelope,
            request,
            async scope =>
            {
                await MoneyDays.LockAsync(scope);
                if (await scope.Db.FindAsync<Invoice>([request.InvoiceId], scope.Cancellation) is not { } invoice)
                {
                    return Failure.Missing("invoice");
                }

                if (!AccountChange.Reason(request.Reason).TryGet(out var reason, out var failure))
                {
                    return failure;
                }

                var account = (await JobAccounts.FindAsync(scope.Db, invoice.JobId, scope.Cancellation))!;
                if (scope.Stale(account) is { } stale)
                {
                    return stale;
                }

                var before = account.EntryCount;
                var papers = await InvoicePapers.OfJobAsync(scope.Db, account.Id, scope.Cancellation);
                var credited = account.Credit(
                    await InvoicePapers.StampAsync(scope, account, "C"),
                    papers,
                    invoice,
                    new BillPart(null, request.AmountMinor, request.Lines),
                    reason
                );
                if (!credited.TryGet(out var note, out failure))
                {
                    return failure;
                }

                InvoicePapers.Add(scope, account, note);
                JobAccounts.Append(scope, account, before);
                return InvoiceRow.Of(note, [note]);
            },
            ct
        );
}
