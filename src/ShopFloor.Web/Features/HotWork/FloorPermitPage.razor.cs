using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.Places;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Web.Features.Inspection;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.HotWork;

/// <summary>The checklist, walked at the car. What was refused stays filled in.</summary>
public partial class FloorPermitPage(
    ReadPermits read,
    ReadJobs jobs,
    ReadShopPlaces readPlaces,
    OpenPermit open,
    SpokenMessages messages,
    NavigationManager navigation
)
{
    private IReadOnlyList<WatcherChoice> watchers = [];
    private IReadOnlyList<JobListItem> cars = [];
    private IReadOnlyList<ShopPlace> places = [];
    private Actor actor = Actor.System;
    private Failure? failure;
    private string key = "";

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    [SupplyParameterFromQuery]
    public string? Place { get; set; }

    [SupplyParameterFromQuery]
    public string? Job { get; set; }

    /// <summary>The place that the page was opened for, or the only one of that kind (a bay where none is named); nothing is ticked where it might be another.</summary>
    private string? Wanted
    {
        get
        {
            var kind = Place ?? "bay";
            return places.FirstOrDefault(p => p.Code == kind && p.Code != p.Kind)?.Code
                ?? (places.Where(p => p.Kind == kind).ToList() is [var only] ? only.Code : null);
        }
    }

    private IEnumerable<string> Sentences =>
        failure switch
        {
            Failure.Refused refused => refused.Reasons.Select(r => r.Text),
            Failure.Invalid invalid => invalid.Errors.Select(e => e.Text),
            null => [],
            _ => [failure.Sentence],
        };

    protected override async Task OnInitializedAsync()
    {
        actor = Actors.Of(Http);
        key = Guid.CreateVersion7().ToString("N");
        var people = await read.WatchersAsync(actor, Http.RequestAborted);
        watchers = people.IsSuccess ? people.Value : [];
        var known = await readPlaces.RunAsync(actor, Http.RequestAborted);
        places = known.IsSuccess ? [.. known.Value.Places.Where(p => p.Kind != "office")] : [];
        var wall = await jobs.WallAsync(actor, Http.RequestAborted);
        cars = wall.IsSuccess ? [.. wall.Value.Where(c => c.CarId is not null)] : [];
    }

    private async Task OpenAsync()
    {
        var request = new OpenPermit.Request(
            Field("place"),
            Guid.TryParse(Field("job"), out var job) ? job : null,
            Guid.TryParse(Field("watcher"), out var watcher) ? watcher : null,
            Number("minutes"),
            Number("hours"),
            [
                .. PermitPoint
                    .All.Where(p => Field(p.Code) is not null)
                    .Select(p => new PermitAnswer(
                        p.Code,
                        Enum.TryParse<PointFinding>(Field(p.Code), out var finding) ? finding : null,
                        Field("note-" + p.Code)
                    )),
            ]
        );
        var envelope = new Envelope(actor, null, Field("key"), $"{actor.Person} {Http.Request.Path}");
        var outcome = await open.RunAsync(request, envelope, Http.RequestAborted);
        if (outcome.TryGet(out var permit, out failure))
        {
            var said = messages.Seal(
                new SpokenMessage($"Permit {permit.Number} is open. {permit.Watcher} watches.", false)
            );
            navigation.NavigateTo($"/floor/hot-work?said={Uri.EscapeDataString(said)}#said");
        }
    }

    private string? Field(string name) =>
        Http.Request.HasFormContentType && Http.Request.Form[name] is [{ Length: > 0 } text] ? text : null;

    private int? Number(string name) =>
        int.TryParse(Field(name), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    /// <summary>What was chosen before it was refused, else the page's own.</summary>
    private string? Chosen(string name, string? otherwise = null) =>
        Http.Request.HasFormContentType ? Field(name) : otherwise;

    private bool Is(PermitPoint point, string finding) => Chosen(point.Code) == finding;
}
