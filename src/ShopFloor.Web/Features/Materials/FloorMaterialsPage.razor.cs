using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Materials;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Materials;
using ShopFloor.Web.Layout;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Materials;

/// <summary>What went into one car and who welded it, at the tablet; what is entered goes through the device's outbox.</summary>
public partial class FloorMaterialsPage(ReadTrace read, ShopHead head, TimeProvider clock)
{
    private TraceView? trace;
    private Failure? failure;
    private Actor actor = Actor.System;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [Parameter]
    public Guid Id { get; set; }

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    private TimeProvider Clock => clock;

    private bool MayKeep => trace is { IsOpen: true } && actor.May(Permission.KeepTrace);

    protected override async Task OnInitializedAsync()
    {
        actor = Actors.Of(Http);
        var found = await read.RunAsync(new JobId(Id), actor, Http.RequestAborted);
        if (found.TryGet(out trace, out failure) && await head.ReadAsync(Http.RequestAborted) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }
    }

    internal static string Word(Enum choice)
    {
        var name = choice.ToString();
        return char.ToLowerInvariant(name[0]) + name[1..];
    }

    private static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private string At(DateTimeOffset instant) =>
        TimeZoneInfo.ConvertTime(instant, zone).ToString("d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);
}
