using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Features.Shared;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Jobs;

/// <summary>A job that begins in the middle: from an accepted quote, with the operations that are done already.</summary>
public partial class HalfBuiltPage(
    ListQuotesWithoutJob listQuotes,
    GetQuote getQuote,
    ReadRouteTemplates routes,
    EnterHalfBuiltCar enter,
    ShopHead head,
    TimeProvider clock
)
{
    private static readonly Choice<string>.Option[] Methods =
    [
        new("cash", "Cash"),
        new("card", "Card"),
        new("bankTransfer", "Bank transfer"),
        new("cheque", "Cheque"),
    ];

    private TypedFields? typed;
    private string key = NewKey();
    private IReadOnlyList<QuoteWithoutJob> quotes = [];
    private QuoteView? chosen;
    private List<Row> rows = [];
    private List<Deposit> deposits = [];
    private IReadOnlyList<FieldError> errors = [];
    private DateOnly? promisedOn;
    private DateOnly today;
    private bool isSaving;
    private bool isOpened;

    /// <summary>One operation on the form.</summary>
    private sealed class Row(RouteOperation operation)
    {
        public string Code { get; } = operation.Code;
        public string Title { get; } = operation.Title;
        public IReadOnlyList<string> After { get; } = operation.After;
        public bool IsDone { get; set; }
        public DateOnly? DoneOn { get; set; }
        public decimal? Hours { get; set; }
    }

    /// <summary>One deposit on the form.</summary>
    private sealed class Deposit
    {
        public long? AmountMinor { get; set; }
        public string? Method { get; set; }
        public DateOnly? On { get; set; }
        public string? Reference { get; set; }
    }

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            var zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
            today = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(clock.GetUtcNow(), zone).DateTime);
        }

        var outcome = await listQuotes.RunAsync(Actor, Closing);
        quotes = outcome.IsSuccess ? outcome.Value : [];
        return outcome.Failure;
    }

    private async Task ChooseAsync(ChangeEventArgs change)
    {
        chosen = null;
        rows = [];
        deposits = [];
        errors = [];
        if (!Guid.TryParse(change.Value?.ToString(), out var id))
        {
            return;
        }

        var outcome = await getQuote.RunAsync(new QuoteId(id), Actor, Closing);
        if (
            Accepted(outcome, out var quote)
            && Accepted(await routes.RouteOfAsync(quote.Terms.Scope, Actor, Closing), out var route)
        )
        {
            chosen = quote;
            promisedOn = quote.Terms.PromiseDate;
            rows = [.. route.Operations.Select(o => new Row(o))];
        }
    }

    /// <summary>What is done had everything before it done: tick that too.</summary>
    private void Follow(Row row)
    {
        if (!row.IsDone)
        {
            return;
        }

        row.DoneOn ??= today;
        foreach (var earlier in rows.Where(r => row.After.Contains(r.Code) && !r.IsDone))
        {
            earlier.IsDone = true;
            earlier.DoneOn ??= row.DoneOn;
            Follow(earlier);
        }
    }

    private async Task SaveAsync()
    {
        // The second tap of a double click may arrive when the job is open already.
        if (isSaving || isOpened || typed!.Refuse())
        {
            return;
        }

        isSaving = true;
        var done = rows.Where(r => r.IsDone)
            .Select(r => new EnterHalfBuiltCar.DoneOperation(r.Code, r.DoneOn, (long)((r.Hours ?? 0) * 60)))
            .ToList();
        var outcome = await enter.RunAsync(
            new EnterHalfBuiltCar.Request(
                chosen!.Id.Value,
                promisedOn,
                done,
                [.. deposits.Select(d => new EnterHalfBuiltCar.PaidDeposit(d.AmountMinor, d.Method, d.On, d.Reference))]
            ),
            Envelope(key),
            Closing
        );
        isSaving = false;
        key = NewKey();
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (Accepted(outcome, out var job))
        {
            isOpened = true;
            Navigation.NavigateTo($"jobs/{job.Id}");
        }
    }

    /// <summary>The sentences belong to the places of the list, so they go with it.</summary>
    private void LeaveOut(Deposit deposit)
    {
        deposits.Remove(deposit);
        errors = [.. errors.Where(e => !e.Path.StartsWith("deposits[", StringComparison.Ordinal))];
    }

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private string? SayOf(Row row)
    {
        var index = rows.Where(r => r.IsDone).ToList().IndexOf(row);
        return index < 0
            ? null
            : errors.FirstOrDefault(e => e.Path.StartsWith($"done[{index}].", StringComparison.Ordinal))?.Text;
    }
}
