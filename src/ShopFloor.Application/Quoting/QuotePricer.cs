using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>A request read and priced with the current price book.</summary>
public sealed record PricedTerms(
    CustomerId CustomerId,
    CarId? CarId,
    QuoteTerms Terms,
    PriceBookId PriceBookId,
    PricedQuote Priced
);

/// <summary>Reads a request against the shop's customers, cars and price book, and prices it.</summary>
public sealed class QuotePricer(IWorkContentSource work, RuleSetLibrary ruleSets) : IUseCase
{
    /// <summary>Prices a request of which customer and car are stored.</summary>
    public async Task<Outcome<PricedTerms>> PriceAsync(
        ShopDbContext db,
        QuoteRequest request,
        DateOnly today,
        CancellationToken ct
    )
    {
        ArgumentNullException.ThrowIfNull(request);
        if (await PriceBooks.InForceAsync(db, today, ct) is not { } edition)
        {
            return PriceBooks.None;
        }

        await work.RefreshAsync(db, ct);
        await ruleSets.RefreshAsync(db, ct);
        var errors = new FieldErrors();
        var customer = await FindCustomerAsync(db, request.CustomerId, errors, ct);
        var car = await FindCarAsync(db, request, errors, ct);
        errors.AddIf(
            customer is not null && car is not null && car.CustomerId != customer.Id,
            "carId",
            "This car belongs to another customer; choose one of this customer's cars."
        );
        var terms = QuoteRequestReader.Read(
            request,
            edition.Book,
            car?.Facts ?? Car.UnknownFacts,
            customer?.IsTaxExempt ?? false,
            today
        );
        errors.Take(terms);
        CheckRuleSets(request, errors);
        await CheckReturnAsync(db, request, car, errors, ct);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        return Price(edition.Book, terms.Value, today)
            .Then<PricedTerms>(priced => new PricedTerms(customer!.Id, car?.Id, terms.Value, edition.Id, priced));
    }

    /// <summary>Prices a request that is still being filled in: customer and car may be missing.</summary>
    public async Task<Outcome<QuotePreview>> PreviewAsync(
        ShopDbContext db,
        QuoteRequest request,
        DateOnly today,
        CancellationToken ct
    )
    {
        ArgumentNullException.ThrowIfNull(request);
        if (await PriceBooks.InForceAsync(db, today, ct) is not { } edition)
        {
            return PriceBooks.None;
        }

        await work.RefreshAsync(db, ct);
        var unheard = new FieldErrors();
        var customer = await FindCustomerAsync(db, request.CustomerId, unheard, ct);
        var car = await FindCarAsync(db, request, unheard, ct);
        return QuoteRequestReader
            .Read(request, edition.Book, car?.Facts ?? Car.UnknownFacts, customer?.IsTaxExempt ?? false, today)
            .Then<QuotePreview>(terms =>
                Price(edition.Book, terms, today)
                    .Then<QuotePreview>(priced => new QuotePreview(
                        priced,
                        WhatIf.Of(edition.Book, InputOf(terms, today), work.For)
                    ))
            );
    }

    /// <summary>Prices terms with a given book at the rates of a day.</summary>
    public Outcome<PricedQuote> Price(PriceBook book, QuoteTerms terms, DateOnly on)
    {
        ArgumentNullException.ThrowIfNull(terms);
        var input = InputOf(terms, on);
        // Without a route there would be no labour on the quote, which nobody may find out at the end.
        return input.Content.Count == 0 && book.FindKit(terms.Scope.KitCode ?? "") is { } kit
            ? Failure.Field("kitCode", $"There is no route template for {kit.Title}; choose a kit that has one.")
            : PriceEngine.Price(book, input);
    }

    /// <summary>The engine's input for terms, with the route's work content.</summary>
    public PriceInput InputOf(QuoteTerms terms, DateOnly on)
    {
        ArgumentNullException.ThrowIfNull(terms);
        return new PriceInput(
            terms.Scope,
            work.For(terms.Scope),
            terms.Discount,
            terms.TradeCreditMinor,
            on,
            terms.IsTaxExempt
        )
        {
            Extras = terms.Extras,
        };
    }

    /// <summary>What a found condition does to a quote's price and hours, with the price book it was made with.</summary>
    public async Task<Outcome<ConditionDifference>> DifferenceAsync(
        ShopDbContext db,
        Quote quote,
        IReadOnlyDictionary<string, string> found,
        CancellationToken ct
    )
    {
        ArgumentNullException.ThrowIfNull(quote);
        await work.RefreshAsync(db, ct);
        var edition = await db.Set<PriceBookEdition>().AsNoTracking().SingleAsync(b => b.Id == quote.PriceBookId, ct);
        var shop = await db.Shops.AsNoTracking().SingleAsync(ct);
        var on = shop.LocalDay(quote.SentAt ?? quote.CreatedAt);
        return QuoteDifference.Between(edition.Book, InputOf(quote.Terms, on), found, work.For);
    }

    private void CheckRuleSets(QuoteRequest request, FieldErrors errors)
    {
        foreach (var (i, code) in (request.RuleSetCodes ?? []).Take(QuoteRequestReader.MostRuleSets).Index())
        {
            errors.AddIf(
                code is { Length: > 0 and <= TextRules.Code } && ruleSets.Offered.All(r => r.Code != code),
                $"ruleSetCodes[{i}]",
                $"{(ruleSets.Find(code!) is null ? $"There is no rule set '{code}'" : $"The rule set '{code}' is withdrawn from new jobs")}; choose one of: {string.Join(", ", ruleSets.Offered.Select(r => r.Code))}."
            );
        }
    }

    private static async Task<Customer?> FindCustomerAsync(
        ShopDbContext db,
        Guid? id,
        FieldErrors errors,
        CancellationToken ct
    )
    {
        var customer = id is { } value
            ? await db.Set<Customer>().SingleOrDefaultAsync(c => c.Id == new CustomerId(value), ct)
            : null;
        errors.AddIf(id is null, "customerId", "A quote needs a customer; choose or add one.");
        errors.AddIf(id is not null && customer is null, "customerId", "There is no such customer; choose or add one.");
        errors.AddIf(
            customer?.ErasedAt is not null,
            "customerId",
            "This customer's data was erased; register the customer anew to quote for them."
        );
        return customer;
    }

    private static async Task<Car?> FindCarAsync(
        ShopDbContext db,
        QuoteRequest request,
        FieldErrors errors,
        CancellationToken ct
    )
    {
        if (request.CarId is not { } id)
        {
            errors.AddIf(
                request.Kind is not ("shipped" or "bench"),
                "carId",
                "A quote needs a car; choose or add one. Only a kit that is shipped and work on a part go without."
            );
            return null;
        }

        var car = await db.Set<Car>().SingleOrDefaultAsync(c => c.Id == new CarId(id), ct);
        errors.AddIf(car is null, "carId", "There is no such car; choose or add one.");
        return car;
    }

    private static async Task CheckReturnAsync(
        ShopDbContext db,
        QuoteRequest request,
        Car? car,
        FieldErrors errors,
        CancellationToken ct
    )
    {
        if (request.ReturnOfJobId is not { } id)
        {
            errors.AddIf(
                request.Kind == "returnVisit",
                "returnOfJobId",
                "Say which earlier job the car comes back for."
            );
            return;
        }

        errors.AddIf(
            request.Kind != "returnVisit",
            "returnOfJobId",
            "Only a return visit belongs to an earlier job; leave it out or choose the kind returnVisit."
        );
        var job = await db.Set<Domain.Routing.Job>()
            .AsNoTracking()
            .SingleOrDefaultAsync(j => j.Id == new JobId(id), ct);
        errors.AddIf(job is null, "returnOfJobId", "There is no such job; choose one of this car's.");
        errors.AddIf(
            job is not null && car is not null && job.CarId != car.Id,
            "returnOfJobId",
            "That job was on another car; choose one of this car's."
        );
    }
}

/// <summary>A price with what would change it.</summary>
public sealed record QuotePreview(PricedQuote Priced, IReadOnlyList<Alternative> Alternatives);
