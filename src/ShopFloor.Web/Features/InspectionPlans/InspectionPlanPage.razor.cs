using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Inspection.Plans;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.InspectionPlans;

/// <summary>One inspection plan: its lines, its versions and what differs between them.</summary>
public partial class InspectionPlanPage(ReadInspectionPlans read, ShopHead head)
{
    private InspectionPlanView? view;
    private IReadOnlyList<RouteChange>? changes;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private int compared;
    private (string, int?) seen;

    [Parameter]
    public string Code { get; set; } = "";

    [SupplyParameterFromQuery]
    public int? Version { get; set; }

    protected override async Task OnParametersSetAsync()
    {
        await base.OnParametersSetAsync();
        if (!IsLoading && seen != (Code, Version))
        {
            await ReloadAsync();
        }
    }

    protected override async Task<Failure?> LoadAsync()
    {
        seen = (Code, Version);
        changes = null;
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var outcome = await read.OneAsync(Code, Version, Actor, Closing);
        view = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    private async Task CompareAsync(int other)
    {
        compared = other;
        var (from, to) = (Math.Min(other, view!.Document.Version), Math.Max(other, view.Document.Version));
        var outcome = await read.CompareAsync(Code, from, to, Actor, Closing);
        changes = Accepted(outcome, out var found) ? found : null;
    }

    private string Time(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}
