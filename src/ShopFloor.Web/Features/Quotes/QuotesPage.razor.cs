using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>All quotes, newest first.</summary>
public partial class QuotesPage(ListQuotes quotes)
{
    private string? search;
    private QuoteState? state;
    private Page<QuoteRow>? list;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await quotes.RunAsync(new(search, state, null, PageRequest.First), Actor, Closing);
        list = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "quote";

    private Task SearchAsync(string? text)
    {
        search = text;
        return ReloadAsync();
    }

    private Task ShowAsync(QuoteState? only)
    {
        state = only;
        return ReloadAsync();
    }
}
