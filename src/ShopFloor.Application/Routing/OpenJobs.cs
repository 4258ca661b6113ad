using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Opens the job of an accepted quote: route, inspection plan and account in one go.</summary>
public sealed class OpenJob(CommandRunner runner, JobOpener opener) : IUseCase
{
    /// <param name="QuoteId">An accepted quote without a job.</param>
    /// <param name="PromisedOn">Another day than the quote's promise.</param>
    public sealed record Request(Guid? QuoteId, DateOnly? PromisedOn = null);

    public Task<Outcome<JobView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<JobView>(
            Permission.RunJobs,
            envelope,
            request,
            scope => opener.OpenAsync(scope, request.QuoteId, request.PromisedOn, null, []),
            ct
        );
}

/// <summary>Takes over a car that is half built: what is done already is taken as fact, with the hours so far, and what was paid is booked on the job's account.</summary>
public sealed class EnterHalfBuiltCar(CommandRunner runner, JobOpener opener) : IUseCase
{
    /// <param name="Done">Operations done already; each with its day, and the minutes worked on it.</param>
    /// <param name="Deposits">What was paid before, each with its day.</param>
    public sealed record Request(
        Guid? QuoteId,
        DateOnly? PromisedOn,
        IReadOnlyList<DoneOperation>? Done,
        IReadOnlyList<PaidDeposit>? Deposits = null
    );

    public sealed record DoneOperation(string? Code, DateOnly? DoneOn, long? Minutes = null);

    /// <param name="AmountMinor">Over 0, in minor units of the shop's currency; together at most what the job costs.</param>
    /// <param name="Method">cash, card, bankTransfer or cheque.</param>
    /// <param name="On">The local day it was paid; not in the future, at most two years ago.</param>
    public sealed record PaidDeposit(long? AmountMinor, string? Method, DateOnly? On, string? Reference = null);

    public Task<Outcome<JobView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<JobView>(
            Permission.RunJobs,
            envelope,
            request,
            scope =>
                opener.OpenAsync(
                    scope,
                    request.QuoteId,
                    request.PromisedOn,
                    request.Done ?? [],
                    request.Deposits ?? []
                ),
            ct
        );
}

/// <summary>What both ways of opening a job have in common.</summary>
public sealed class JobOpener(RouteLibrary routes, IEnumerable<IJobOpening> openings) : IUseCase
{
    /// <summary>Promised days lie within five years; older done days than that are typing errors.</summary>
    public const int MostDays = 5 * 366;

    internal async Task<Outcome<JobView>> OpenAsync(
        CommandScope scope,
        Guid? quoteId,
        DateOnly? promisedOn,
        IReadOnlyList<EnterHalfBuiltCar.DoneOperation>? done,
        IReadOnlyList<EnterHalfBuiltCar.PaidDeposit> deposits
    )
    {
        if (quoteId is not { } wanted)
        {
            return Failure.Field("quoteId", "A job is opened from an accepted quote: name its id.");
        }

        var ct = scope.Cancellation;
        var quote = await scope.Db.Set<Quote>().SingleOrDefaultAsync(q => q.Id == new QuoteId(wanted), ct);
        if (quote is null)
        {
            return Failure.Field("quoteId", "There is no such quote.");
        }

        var shop = await scope.ShopAsync();
        if (await RefusalAsync(scope, quote, shop) is { } refusal)
        {
            return refusal;
        }

        var today = shop.LocalDay(scope.Now);
        var errors = new FieldErrors();
        errors.AddIf(
            promisedOn < today.AddDays(-MostDays) || promisedOn > today.AddDays(MostDays),
            "promisedOn",
            "The promised day lies within five years of today."
        );
        var before = DoneBefore(done ?? [], shop, scope.Now, today, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        await routes.RefreshAsync(scope.Db, ct);
        if (routes.RouteOf(quote.Scope) is not { } route)
        {
            return Failure.Because("routeTemplate", $"There is no route for {quote.Scope.RouteKey}.");
        }

        var opening = new Job.Opening(
            scope.NewId<JobId>(),
            await scope.NextNumberAsync("J"),
            quote.Id,
            quote.CustomerId,
            quote.CarId,
            quote.Scope,
            promisedOn ?? quote.PromiseDate,
            scope.Now
        )
        {
            ReturnOf = quote.Terms.ReturnOfJob,
        };
        var opened = done is null
            ? Job.Open(opening, route, scope.NewId<OperationId>)
            : Job.OpenMidRoute(opening, route, before, scope.NewId<OperationId>);
        if (!opened.TryGet(out var job, out var failure))
        {
            return failure;
        }

        if (
            done is null
            && job.Unfinishable(
                $"Edition {job.TemplateEdition} of the route {job.TemplateCode} cannot be finished for this car:",
                "The owner mends the route first."
            )
                is { } stuck
        )
        {
            return stuck;
        }

        scope.Db.Add(job);
        scope.Record(
            new EventDraft(
                done is null ? "job.opened" : "job.enteredMidRoute",
                "job",
                job.Id.Value,
                job.Id,
                After: new
                {
                    job.Number,
                    quote = job.QuoteId,
                    template = job.TemplateCode,
                    edition = job.TemplateEdition,
                    operations = job.Operations.Select(o => o.Code),
                    done = job.Operations.Where(o => o.IsOver).Select(o => o.Code),
                    promisedOn = job.PromisedOn,
                    returnOf = job.ReturnOf,
                }
            )
        );
        foreach (var addition in openings.OrderBy(o => o.GetType().FullName, StringComparer.Ordinal))
        {
            if ((await addition.AddAsync(scope, job, quote)).Failure is { } refused)
            {
                return refused;
            }
        }

        await scope.SaveAsync();
        var paid = deposits.Select(d => new MoneyRequest(job.Id, d.AmountMinor, d.Method, d.Reference, d.On));
        if ((await DepositsBefore.BookAsync(scope, job.Id, [.. paid])).Failure is { } notBooked)
        {
            return notBooked;
        }

        await scope.SaveAsync();
        return await JobReader.ViewAsync(scope.Db, job, scope.Actor, scope.Now, ct);
    }

    private static async Task<Failure?> RefusalAsync(CommandScope scope, Quote quote, Shop shop)
    {
        if (quote.StateOn(shop.LocalDay(scope.Now)) != QuoteState.Accepted)
        {
            return Failure.Because(
                "quoteNotAccepted",
                $"Quote {quote.Number} revision {quote.Revision} is not accepted. Record the customer's acceptance first."
            );
        }

        var number = await scope
            .Db.Set<Job>()
            .Where(j => j.QuoteId == quote.Id)
            .Select(j => j.Number)
            .SingleOrDefaultAsync(scope.Cancellation);
        return number is null
            ? null
            : Failure.Because("jobExists", $"Quote {quote.Number} has its job already: {number}.");
    }

    private static List<Job.DoneBefore> DoneBefore(
        IReadOnlyList<EnterHalfBuiltCar.DoneOperation> done,
        Shop shop,
        DateTimeOffset now,
        DateOnly today,
        FieldErrors errors
    )
    {
        if (done.Count > RouteTemplate.MostOperations)
        {
            errors.Add("done", $"At most {RouteTemplate.MostOperations} operations can be listed.");
            return [];
        }

        var facts = new List<Job.DoneBefore>();
        for (var i = 0; i < done.Count; i++)
        {
            var code = TextRules.Required(done[i].Code, $"done[{i}].code", "The operation", TextRules.Code, errors);
            if (done[i].DoneOn is not { } day || day > today || day < today.AddDays(-MostDays))
            {
                errors.Add($"done[{i}].doneOn", "Name the day it was done: today or up to five years ago.");
                continue;
            }

            // The day's end, since nobody knows the hour: a cure is then counted too long rather than too short.
            var end = shop.StartOf(day.AddDays(1));
            facts.Add(new Job.DoneBefore(code, day, end < now ? end : now, done[i].Minutes ?? 0));
        }

        return facts;
    }
}
