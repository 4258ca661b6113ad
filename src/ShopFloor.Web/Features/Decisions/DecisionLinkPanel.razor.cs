using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Decisions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Decisions;

/// <summary>Links about one quote, change order, customer's part or job, for the front desk.</summary>
public partial class DecisionLinkPanel(
    ListDecisionLinks list,
    CreateDecisionLink create,
    RevokeDecisionLink revoke,
    ShopHead head,
    Hosting.Settings settings
)
{
    /// <summary>A further quote that may stand beside the first.</summary>
    public sealed record OtherQuote(Guid Id, string Title);

    private readonly HashSet<Guid> chosen = [];
    private IReadOnlyList<DecisionLinkView> links = [];
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private string? address;
    private DateTimeOffset expiresAt;
    private DecisionLinkId shown;
    private bool isBusy;

    [Parameter, EditorRequired]
    public DecisionKind Kind { get; set; }

    /// <summary>The quote, change order, part or job.</summary>
    [Parameter, EditorRequired]
    public Guid About { get; set; }

    /// <summary>What the button says.</summary>
    [Parameter, EditorRequired]
    public string Label { get; set; } = "";

    /// <summary>There is something to decide.</summary>
    [Parameter]
    public bool CanMake { get; set; } = true;

    [Parameter]
    public IReadOnlyList<OtherQuote> Others { get; set; } = [];

    protected override Guid? Subject => About;

    protected override void Restart()
    {
        address = null;
        chosen.Clear();
    }

    protected override async Task<Failure?> LoadAsync()
    {
        if (!Actor.May(Permission.ShareProgress))
        {
            return null;
        }

        var outcome = await list.RunAsync(About, Actor, Closing);
        links = outcome.IsSuccess ? outcome.Value : [];
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "decisionLink";

    private void Choose(Guid id, bool isChosen) => _ = isChosen ? chosen.Add(id) : chosen.Remove(id);

    private async Task CreateAsync()
    {
        // The second click of a double click arrives before the button is seen to be disabled.
        if (isBusy)
        {
            return;
        }

        isBusy = true;
        var word = char.ToLowerInvariant(Kind.ToString()[0]) + Kind.ToString()[1..];
        var request = new CreateDecisionLink.Request(word, [About, .. Others.Select(o => o.Id).Where(chosen.Contains)]);
        if (Accepted(await create.RunAsync(request, Envelope(NewKey()), Closing), out var ticket))
        {
            address = DecisionPage.UrlOf(settings, ticket.Token);
            (expiresAt, shown) = (ticket.ExpiresAt, ticket.Id);
            await ReloadAsync();
        }

        isBusy = false;
    }

    private async Task RevokeAsync(DecisionLinkId id)
    {
        isBusy = true;
        if (Accepted(await revoke.RunAsync(id, Envelope(NewKey()), Closing), out _, "The link opens nothing any more."))
        {
            address = id == shown ? null : address;
            await ReloadAsync();
        }

        isBusy = false;
    }

    private string Stand(DecisionLinkView link) =>
        link switch
        {
            { Answer: DecisionAnswer.Accepted } => $"✓ the customer said yes on {Day(link.UsedAt!.Value)}",
            { Answer: DecisionAnswer.Declined } => $"✕ the customer said no on {Day(link.UsedAt!.Value)}",
            { Answer: not null } =>
                $"✓ answered on {Day(link.UsedAt!.Value)}{(link.AnsweredBy is { } who ? $" by {who}" : "")}",
            { RevokedAt: { } at } => $"✕ revoked on {Day(at)}",
            { IsOpen: true } => $"… not answered, valid until {Day(link.ExpiresAt)}",
            _ => $"○ expired on {Day(link.ExpiresAt)}",
        };

    private string Day(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy", CultureInfo.InvariantCulture);
}
