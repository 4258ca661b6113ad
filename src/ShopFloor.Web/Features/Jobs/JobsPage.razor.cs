using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Jobs;

/// <summary>All jobs with their route strips; those promised first lead.</summary>
public partial class JobsPage(ReadJobs read)
{
    private static readonly (string Code, string Title)[] States =
    [
        ("open", "In the shop"),
        ("closed", "Handed over"),
        ("cancelled", "Cancelled"),
        ("all", "All"),
    ];

    private string? search;
    private string state = "open";
    private DateOnly? dueBy;
    private Page<JobListItem>? list;

    private bool IsNarrowed => !string.IsNullOrEmpty(search) || state != "open" || dueBy is not null;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.ListAsync(new JobFilter(state, dueBy, search), PageRequest.First, Actor, Closing);
        list = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.JobId is not null;

    private async Task SearchAsync(string? text)
    {
        search = text;
        await ReloadAsync();
    }

    private async Task ShowAsync(string wanted)
    {
        state = wanted;
        await ReloadAsync();
    }

    private async Task DueAsync(ChangeEventArgs change)
    {
        dueBy = DateOnly.TryParse(change.Value?.ToString(), CultureInfo.InvariantCulture, out var day) ? day : null;
        await ReloadAsync();
    }

    private static string PromiseOf(JobListItem job) =>
        job.PromisedOn is { } day
            ? $"{(job.IsLate ? "Late: was promised for" : "Promised for")} {day.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture)}"
            : "No day promised";
}
