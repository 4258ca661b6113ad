using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>One route template: the drawn network with its table, its editions and what differs between them.</summary>
public partial class RouteTemplatePage(ReadRouteTemplates read, ChangeRouteTemplates change, ShopHead head)
{
    private RouteTemplateView? view;
    private IReadOnlyList<RouteChange>? changes;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private int compared;
    private (string, int?) seen;

    [Parameter]
    public string Code { get; set; } = "";

    [SupplyParameterFromQuery]
    public int? Edition { get; set; }

    protected override async Task OnParametersSetAsync()
    {
        await base.OnParametersSetAsync();
        if (!IsLoading && seen != (Code, Edition))
        {
            await ReloadAsync();
        }
    }

    protected override async Task<Failure?> LoadAsync()
    {
        seen = (Code, Edition);
        changes = null;
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var outcome = await read.OneAsync(Code, Edition, Actor, Closing);
        view = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    private async Task BeginAsync()
    {
        var request = new ChangeRouteTemplates.BeginRequest(view!.Template.Edition);
        var outcome = await change.BeginAsync(Code, request, Envelope(NewKey()), Closing);
        if (Accepted(outcome, out _))
        {
            Navigation.NavigateTo($"route-templates/{Code}/draft");
        }
    }

    private async Task CompareAsync(int other)
    {
        compared = other;
        var (from, to) = (Math.Min(other, view!.Template.Edition), Math.Max(other, view.Template.Edition));
        var outcome = await read.CompareAsync(Code, from, to, Actor, Closing);
        changes = Accepted(outcome, out var found) ? found : null;
    }

    private string Time(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}
