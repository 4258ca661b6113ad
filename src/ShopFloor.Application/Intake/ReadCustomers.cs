using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake;

/// <summary>Reads customers: one, or a list by name, e-mail or phone.</summary>
public sealed class ReadCustomers(QueryRunner queries) : IUseCase
{
    public Task<Outcome<CustomerView>> OneAsync(CustomerId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<CustomerView>(
            Permission.SeeOffice,
            actor,
            async db =>
                await db.Set<Customer>().SingleOrDefaultAsync(c => c.Id == id, ct) is { } customer
                    ? CustomerView.Of(customer)
                    : Failure.Missing("customer"),
            ct
        );

    /// <summary>Ordered by name; <paramref name="search"/> matches anywhere in name, e-mail or phone.</summary>
    public Task<Outcome<Page<CustomerView>>> ListAsync(
        string? search,
        PageRequest page,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<Page<CustomerView>>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                IQueryable<Customer> query = db.Set<Customer>();
                var term = TextRules.SearchForm(search);
                if (term.Length > TextRules.ShortText)
                {
                    return Failure.Field("search", $"A search has at most {TextRules.ShortText} characters.");
                }

                if (term.Length > 0)
                {
                    query = query.Where(c => c.SearchText.Contains(term));
                }

                return await page.CutAsync(query.OrderBy(c => c.SearchText).ThenBy(c => c.Id), CustomerView.Of, ct);
            },
            ct
        );
}
