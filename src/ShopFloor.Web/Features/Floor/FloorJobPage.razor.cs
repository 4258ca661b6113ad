using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Routing;
using ShopFloor.Application.Workbench.Saved;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Features.Inspection;
using ShopFloor.Web.Layout;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Floor;

/// <summary>One car on the tablet: what runs, what can safely be done next, and why the rest cannot.</summary>
public partial class FloorJobPage(
    ReadJobs read,
    ReadJobFigures readFigures,
    ListPhotos listPhotos,
    ShopHead head,
    SpokenMessages messages,
    TimeProvider clock
)
{
    private const int MostNext = 4;
    private const int MostThumbs = 6;
    private const int MostUndo = 2;
    private const int MostLater = 5;
    private const int MostComing = 3;

    private JobView? job;
    private Failure? failure;
    private SpokenMessage? message;
    private Actor actor = Actor.System;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private IReadOnlyList<PhotoView> photos = [];
    private IReadOnlyList<JobFigureView> figures = [];

    [Parameter]
    public Guid Id { get; set; }

    /// <summary>What the last form's command answered, sealed by <see cref="SpokenMessages"/>.</summary>
    [SupplyParameterFromQuery]
    public string? Said { get; set; }

    [CascadingParameter]
    public HttpContext HttpContext { get; set; } = default!;

    private DateTimeOffset Now { get; set; }

    /// <summary>What a photo taken now most likely shows: what is in work, else what was finished last, else what comes next.</summary>
    private string? PhotoOf =>
        (
            Running.FirstOrDefault()
            ?? job!.Operations.Where(o => o.FinishedAt is not null).MaxBy(o => o.FinishedAt)
            ?? Ready.FirstOrDefault()
        )?.Code;

    private PersonId? Me => actor.Person;
    private bool MayInspect => actor.May(Permission.Inspect);

    /// <summary>The job whose operations ask who is present; null for those who may not say it, and once it is closed.</summary>
    private JobId? PresenceJob => job!.State == JobState.Open && actor.May(Permission.OrderRework) ? job.Id : null;
    private bool MayAddPhotos => actor.May(Permission.AddPhotos);
    private bool MayFigure => job!.State == JobState.Open && actor.May(Permission.KeepFigures);

    /// <summary>Figures of no step, and of steps whose cards are not shown in full.</summary>
    private List<JobFigureView> OtherFigures
    {
        get
        {
            var shown = Running
                .Concat(Ready.Take(MostNext))
                .Concat(Held)
                .Select(o => o.Code)
                .ToHashSet(StringComparer.Ordinal);
            return [.. figures.Where(f => f.Operation is null || !shown.Contains(f.Operation))];
        }
    }

    /// <summary>Steps to come that want figures: worked out before their permit is open or their turn has come.</summary>
    private List<OperationView> Coming =>
        MayFigure
            ? [.. Of(o => o.State == OperationState.Waiting && o.Figures is { Count: > 0 }).Take(MostComing)]
            : [];

    private List<OperationView> Running => Of(o => o.State == OperationState.InWork);
    private List<OperationView> Ready => Of(o => o.State == OperationState.Ready);
    private List<OperationView> Held => Of(o => o.State == OperationState.OnHold);

    /// <summary>Finishes that may still be taken back, the newest first.</summary>
    private List<OperationView> JustDone =>
        [.. Of(o => o.UndoUntil is not null).OrderByDescending(o => o.UndoUntil).Take(MostUndo)];

    /// <summary>What has to wait, and what is ready beyond the first four.</summary>
    private List<OperationView> Later => [.. Ready.Skip(MostNext), .. Of(o => o.State == OperationState.Waiting)];

    /// <summary>The side through which the bar leaves the car; null where no car is here.</summary>
    private string? PassengerDoor =>
        job!.CarFacts is { } facts
            ? facts.SteeringSide == "Left"
                ? "right side"
                : "left side"
            : null;

    protected override async Task OnInitializedAsync()
    {
        Now = clock.GetUtcNow();
        actor = Actors.Of(HttpContext);
        message = messages.Open(Said);
        var outcome = await read.OneAsync(new JobId(Id), actor, HttpContext.RequestAborted);
        if (!outcome.TryGet(out job, out failure))
        {
            if (failure is Failure.NotFound)
            {
                HttpContext.Response.StatusCode = StatusCodes.Status404NotFound;
            }

            return;
        }

        if (await head.ReadAsync(HttpContext.RequestAborted) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var kept = await readFigures.OfJobAsync(new JobId(Id), actor, HttpContext.RequestAborted);
        figures = kept.IsSuccess ? kept.Value.InForce : [];
        var found = await listPhotos.RunAsync(new JobId(Id), null, null, actor, HttpContext.RequestAborted);
        photos = found.IsSuccess ? [.. found.Value.Where(p => !p.IsRemoved).TakeLast(MostThumbs).Reverse()] : [];
    }

    private List<JobFigureView> FiguresOf(OperationView operation) =>
        [.. figures.Where(f => f.Operation == operation.Code)];

    private bool MayWorkOn(OperationView operation) =>
        job!.State == JobState.Open
        && (
            actor.May(Permission.WorkOnFloor)
            || (actor.May(Permission.Inspect) && operation.Skill == Operation.InspectorSkill)
        );

    private List<OperationView> Of(Func<OperationView, bool> wanted) => [.. job!.Operations.Where(wanted)];

    private string At(DateTimeOffset instant) =>
        TimeZoneInfo.ConvertTime(instant, zone).ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture);
}
