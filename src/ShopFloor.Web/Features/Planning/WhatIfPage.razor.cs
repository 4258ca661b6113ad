using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Planning;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Planning;

/// <summary>Asks the plan when one more car would be ready.</summary>
public partial class WhatIfPage(WhatIfCar whatIf)
{
    private IReadOnlyList<WhatIfQuote> quotes = [];
    private string chosen = "";
    private DateOnly? day;
    private bool isBusy;
    private WhatIfView? answer;
    private IReadOnlyList<FieldError> errors = [];

    /// <summary>The quote to begin with; absent for none.</summary>
    [SupplyParameterFromQuery]
    public Guid? Quote { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await whatIf.QuotesAsync(Actor, Closing);
        if (outcome.IsSuccess)
        {
            quotes = outcome.Value;
            chosen = quotes.FirstOrDefault(q => q.Id.Value == Quote)?.Id.Value.ToString() ?? chosen;
        }

        return outcome.Failure;
    }

    private async Task AskAsync()
    {
        answer = null;
        if (!Guid.TryParse(chosen, out var quote))
        {
            errors = [new FieldError("quoteId", "Choose the quote whose car would come.")];
            return;
        }

        isBusy = true;
        var outcome = await whatIf.RunAsync(new QuoteId(quote), day, Actor, Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var view))
        {
            answer = view;
        }
    }
}
