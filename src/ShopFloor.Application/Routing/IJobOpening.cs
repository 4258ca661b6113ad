using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>What another part of the program adds when a job is opened, in the same transaction. One class per addition; found by scanning.</summary>
public interface IJobOpening : IHook
{
    /// <summary>Adds its rows to the scope. A failure refuses the whole job.</summary>
    Task<Outcome<Done>> AddAsync(CommandScope scope, Job job, Quote quote);
}

/// <summary>The job's account: the accepted quote is charged.</summary>
public sealed class OpenAccountOfJob : IJobOpening
{
    public async Task<Outcome<Done>> AddAsync(CommandScope scope, Job job, Quote quote)
    {
        ArgumentNullException.ThrowIfNull(job);
        await JobAccounts.OpenAsync(scope, job.Id, quote);
        return Outcome.Ok;
    }
}
