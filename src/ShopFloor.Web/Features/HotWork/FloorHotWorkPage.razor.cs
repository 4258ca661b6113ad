using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Inspection;
using ShopFloor.Web.Layout;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.HotWork;

/// <summary>Permits and watches at the tablet, each with what its people can do. Plain forms: it works with script off.</summary>
public partial class FloorHotWorkPage(ReadPermits read, ShopHead head, SpokenMessages messages, TimeProvider clock)
{
    private IReadOnlyList<PermitView> permits = [];
    private IReadOnlyList<WatcherChoice> watchers = [];
    private Actor actor = Actor.System;
    private Failure? failure;
    private SpokenMessage? message;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    /// <summary>What the last form's command answered, sealed by <see cref="SpokenMessages"/>.</summary>
    [SupplyParameterFromQuery]
    public string? Said { get; set; }

    private TimeProvider Clock => clock;

    protected override async Task OnInitializedAsync()
    {
        actor = Actors.Of(Http);
        message = messages.Open(Said);
        var found = await read.UnclosedAsync(actor, Http.RequestAborted);
        permits = found.IsSuccess ? found.Value : [];
        failure = found.Failure;
        if (actor.May(Permission.KeepFireWatch))
        {
            var people = await read.WatchersAsync(actor, Http.RequestAborted);
            watchers = people.IsSuccess ? people.Value : [];
        }

        if (await head.ReadAsync(Http.RequestAborted) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }
    }
}
