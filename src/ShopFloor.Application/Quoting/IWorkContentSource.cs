using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Quoting;

/// <summary>Where the work content of a job comes from: the route template of its kit.</summary>
public interface IWorkContentSource
{
    /// <summary>The work content for a scope, before condition factors; empty where no route template knows the kit.</summary>
    IReadOnlyList<WorkContent> For(JobScope scope);

    /// <summary>Takes over route templates that were put in force since the last look.</summary>
    Task RefreshAsync(ShopDbContext db, CancellationToken ct);
}
