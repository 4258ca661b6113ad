using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>Words for how an edition stands.</summary>
public static class EditionWords
{
    /// <summary>State by glyph and word.</summary>
    public static string Of(EditionState state) =>
        state switch
        {
            EditionState.InForce => "● in force",
            EditionState.Planned => "◷ to come",
            EditionState.Past => "○ past",
            EditionState.Overtaken => "⊘ never used",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };
}

/// <summary>All editions, and two of them to be compared.</summary>
public partial class EditionsPage(ReadEditions read)
{
    private EditionsView? view;
    private string from = "";
    private string to = "";

    private bool MayChange => Actor?.May(Permission.RunShop) == true;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.ListAsync(new PageRequest(1, PageRequest.LargestSize), Actor, Closing);
        if (outcome.IsSuccess)
        {
            view = outcome.Value;
            if (from.Length == 0 && view.Editions.Count > 0)
            {
                to = Text(view.Editions[0].Edition);
                from = Text((Before(view.Editions[0]) ?? view.Editions[0]).Edition);
            }
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Type == "priceBook.adopted";

    private void Compare() => Navigation.NavigateTo($"price-book/compare?from={from}&to={to}");

    private EditionRow? Before(EditionRow edition) =>
        view!.Editions.FirstOrDefault(e => e.Edition == edition.Edition - 1);

    private static string Name(EditionRow edition) =>
        $"{edition.Edition} · {edition.Title} · {edition.EffectiveFrom:yyyy-MM-dd}";

    private static string Text(int edition) => edition.ToString(CultureInfo.InvariantCulture);
}
