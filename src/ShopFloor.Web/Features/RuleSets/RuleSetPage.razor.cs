using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>One rule set: each figure with its clause and how surely it is known, its versions, and what the owner does with it.</summary>
public partial class RuleSetPage(ReadRuleSets read, KeepRuleSets keep, ShopHead head)
{
    private RuleSetView? set;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private (string, int?) seen;
    private bool isBusy;
    private bool isAsking;

    [Parameter]
    public string Code { get; set; } = "";

    [SupplyParameterFromQuery]
    public int? Version { get; set; }

    private bool MayKeep => Actor.May(Permission.RunShop);

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
        isAsking = false;
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var outcome = await read.OneAsync(Code, Version, Actor, Closing);
        set = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    private async Task CopyAsync()
    {
        isBusy = true;
        var outcome = await keep.CopyAsync(
            Code,
            new KeepRuleSets.CopyRequest(set!.Version),
            Envelope(NewKey()),
            Closing
        );
        isBusy = false;
        if (Accepted(outcome, out var copy, "Copied. The original stays as it is."))
        {
            Navigation.NavigateTo($"rule-sets/{copy.Code}/edit");
        }
    }

    private async Task ShelveAsync(Func<string, Envelope, CancellationToken, Task<Outcome<RuleSetView>>> act)
    {
        isBusy = true;
        var outcome = await act(Code, Envelope(NewKey()), Closing);
        isBusy = false;
        if (Accepted(outcome, out _))
        {
            await ReloadAsync();
        }
    }

    private string Time(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);

    private static string Day(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);
}
