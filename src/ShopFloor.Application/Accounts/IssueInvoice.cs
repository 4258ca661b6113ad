using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Accounts;

/// <summary>Writes the invoice of a job: gapless number, content and hash frozen. One for each job; work done is invoiced where the job was cancelled.</summary>
public sealed class IssueInvoice(CommandRunner runner) : IUseCase
{
    /// <param name="SuppliedOn">The day the work was finished; absent means today.</param>
    public sealed record Request(JobId JobId, DateOnly? SuppliedOn = null);

    public Task<Outcome<InvoiceRow>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<InvoiceRow>(
            Permission.TakeMoney,
            envelope,
            request,
            async scope =>
            {
                if (await JobAccounts.FindAsync(scope.Db, request.JobId, scope.Cancellation) is not { } account)
                {
                    return Failure.Missing("job account");
                }

                var earlier = await scope
                    .Db.Set<Invoice>()
                    .Where(i => i.JobId == request.JobId)
                    .Select(i => i.Number)
                    .FirstOrDefaultAsync(scope.Cancellation);
                if (earlier is not null)
                {
                    return Failure.Because("invoiced", $"This job was invoiced already: {earlier}.");
                }

                return await IssueAsync(scope, account, request);
            },
            ct
        );

    private static async Task<Outcome<InvoiceRow>> IssueAsync(CommandScope scope, JobAccount account, Request request)
    {
        var quote = await scope.Db.Set<Quote>().SingleAsync(q => q.Id == account.QuoteId, scope.Cancellation);
        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        // Two at once must not both find no invoice: the account's version lets only one through.
        scope.Db.Touch(account);
        var issued = Invoice.Issue(
            scope.NewId<InvoiceId>(),
            await scope.NextNumberAsync("I"),
            account,
            $"{quote.Number} revision {quote.Revision}",
            account.CancelledWork ?? InvoiceContent.Of(quote.Priced),
            request.SuppliedOn ?? today,
            JobAccounts.Stamp(scope, today)
        );
        if (!issued.TryGet(out var invoice, out var failure))
        {
            return failure;
        }

        scope.Db.Add(invoice);
        scope.Record(
            new EventDraft(
                "invoice.issued",
                "invoice",
                invoice.Id.Value,
                account.Id,
                After: new
                {
                    invoice.Number,
                    invoice.TotalMinor,
                    Currency = account.Currency.Code,
                    invoice.ContentHash,
                }
            )
        );
        return new InvoiceRow(
            invoice.Id,
            invoice.Number,
            invoice.IssuedOn,
            invoice.SuppliedOn,
            invoice.TotalMinor,
            invoice.ContentHash
        );
    }
}
