using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Removed;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Features.Inspection;
using ShopFloor.Web.Layout;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Removed;

/// <summary>What came out of one car, at the tablet; what is entered goes through the device's outbox.</summary>
public partial class FloorPartsPage(
    ReadCarThings read,
    ReadJobs jobs,
    ShopHead head,
    SpokenMessages messages,
    TimeProvider clock
)
{
    private CarThings? things;
    private JobView? job;
    private SpokenMessage? message;
    private Failure? failure;
    private Actor actor = Actor.System;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    /// <summary>The operation that a photo of a part belongs to: what is in work, else the first of the trim.</summary>
    private string? operation;

    [Parameter]
    public Guid Id { get; set; }

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    /// <summary>What the last form's command answered, sealed by <see cref="SpokenMessages"/>.</summary>
    [SupplyParameterFromQuery]
    public string? Said { get; set; }

    private TimeProvider Clock => clock;

    private bool MayKeep => things is { IsOpen: true } && actor.May(Permission.KeepParts);

    private string Account =>
        things switch
        {
            { Parts.Count: 0 } => "Nothing has come out of this car yet.",
            { OutCount: 0 } => $"✓ All {things.Parts.Count} parts are accounted for.",
            _ =>
                $"○ {things!.OutCount} of {things.Parts.Count} parts are out. The car is not handed over before each is back or the owner has said why not.",
        };

    protected override async Task OnInitializedAsync()
    {
        actor = Actors.Of(Http);
        message = messages.Open(Said);
        var found = await read.RunAsync(new JobId(Id), actor, Http.RequestAborted);
        if (!found.TryGet(out things, out failure))
        {
            return;
        }

        if (await head.ReadAsync(Http.RequestAborted) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var one = await jobs.OneAsync(new JobId(Id), actor, Http.RequestAborted);
        if (one.TryGet(out job, out _))
        {
            var operations = job.Operations;
            operation = (
                operations.FirstOrDefault(o => o.State == OperationState.InWork)
                ?? operations.FirstOrDefault(o => o.Phase == Phase.TrimOut)
                ?? (operations.Count > 0 ? operations[0] : null)
            )?.Code;
        }
    }

    private string At(DateTimeOffset instant) =>
        TimeZoneInfo.ConvertTime(instant, zone).ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);
}
