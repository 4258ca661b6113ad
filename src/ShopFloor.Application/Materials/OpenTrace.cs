using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.Materials;

/// <summary>The lists of joints shipped with the program.</summary>
public sealed class JointLibrary
{
    private readonly IReadOnlyList<JointList> lists = ShippedData.ReadAll(
        "welds",
        text => DataFiles.Read<JointListDocument>(text).Then(JointList.From)
    );

    /// <summary>The list for a kit; null where its joints are not known beforehand.</summary>
    public JointList? Find(string kit) => lists.FirstOrDefault(l => l.IsFor(kit));
}

/// <summary>A new job gets the list of joints that will be welded on it.</summary>
public sealed class OpenTrace(JointLibrary library) : IJobOpening
{
    public Task<Outcome<Done>> AddAsync(CommandScope scope, Job job, Quote quote)
    {
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(job);
        var list = library.Find(job.Scope.RouteKey);
        var route = job.Operations.Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        scope.Db.Add(JobTrace.Open(job.Id, list?.Wanted ?? [], list?.For(job.Scope, route) ?? [], scope.Now));
        return Task.FromResult(Outcome.Ok);
    }
}
