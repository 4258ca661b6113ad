using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Finds a car on the floor by what was scanned or typed: the address on its traveller, its job's number, its plates, its name.</summary>
public sealed partial class FindCarOnFloor(QueryRunner queries, ReadJobs read) : IUseCase
{
    private const int MostFound = 20;

    /// <summary>Open jobs that fit; one where the code is exact.</summary>
    public async Task<Outcome<IReadOnlyList<JobListItem>>> RunAsync(string? code, Actor actor, CancellationToken ct)
    {
        var errors = new FieldErrors();
        var text = TextRules.Required(code, "code", "A code, number or plates", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (JobInAddress().Match(text) is { Success: true } address)
        {
            var id = new JobId(Guid.Parse(address.Groups[1].Value));
            var one = await queries.RunAsync<string>(
                Permission.SeeFloor,
                actor,
                async db =>
                    await db.Set<Job>().Where(j => j.Id == id).Select(j => j.Number).SingleOrDefaultAsync(ct)
                        is { } number
                        ? Outcome<string>.Success(number)
                        : Failure.Missing("car here: the code belongs to another shop or to a job that is gone"),
                ct
            );
            return one.TryGet(out var number, out var failure)
                ? await ListAsync(new JobFilter("all", Search: number), actor, ct)
                : failure;
        }

        var found = await ListAsync(new JobFilter(Search: text), actor, ct);
        return found.TryGet(out var items, out _) && items.FirstOrDefault(j => IsExact(j, text)) is { } exact
            ? Outcome<IReadOnlyList<JobListItem>>.Success([exact])
            : found;
    }

    private async Task<Outcome<IReadOnlyList<JobListItem>>> ListAsync(
        JobFilter filter,
        Actor actor,
        CancellationToken ct
    ) =>
        (await read.ListAsync(filter, new PageRequest(1, MostFound), actor, ct)).Then(p =>
            Outcome<IReadOnlyList<JobListItem>>.Success(p.Items)
        );

    private static bool IsExact(JobListItem job, string text) =>
        string.Equals(job.Number, text, StringComparison.OrdinalIgnoreCase)
        || string.Equals(Plain(job.Registration), Plain(text), StringComparison.OrdinalIgnoreCase);

    private static string Plain(string? plates) => new([.. (plates ?? "-").Where(char.IsLetterOrDigit)]);

    [GeneratedRegex("(?:^|/floor/jobs/)([0-9a-fA-F]{8}(?:-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12})(?:$|[/?#])")]
    private static partial Regex JobInAddress();
}
