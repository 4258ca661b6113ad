using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Planning;

/// <summary>What the shop wishes of the plan for one job: how pressing it is, and for single operations who, not before when, or exactly when.</summary>
public sealed class PlanWishes : IVersioned
{
    public const int LeastWeight = 1;
    public const int MostWeight = 5;
    public const int UsualWeight = 2;

    private PlanWishes() { }

    public JobId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>1 can wait, 2 usual, 5 most pressing.</summary>
    public int Weight { get; private set; } = UsualWeight;
    public IReadOnlyList<OperationWish> Operations { get; private set; } = [];

    public static PlanWishes Of(JobId job) => new() { Id = job };

    public OperationWish For(string operation) =>
        Operations.FirstOrDefault(o => o.Operation == operation) ?? new OperationWish(operation);

    public Outcome<Done> Press(int weight)
    {
        if (weight is < LeastWeight or > MostWeight)
        {
            return Failure.Field("weight", $"How pressing a job is goes from {LeastWeight} to {MostWeight}.");
        }

        Weight = weight;
        return Outcome.Ok;
    }

    /// <summary>Takes the wish in the place of the one for the same operation; an empty one removes it.</summary>
    public void Wish(OperationWish wish) =>
        Operations = [
            .. Operations
                .Where(o => o.Operation != wish.Operation)
                .Concat(wish.IsEmpty ? [] : [wish])
                .OrderBy(o => o.Operation, StringComparer.Ordinal),
        ];
}

/// <summary>A wish for one operation.</summary>
/// <param name="Person">Who should do it; null for anybody who can.</param>
/// <param name="NotBefore">Not before this local day.</param>
/// <param name="At">It begins then, whatever else moves.</param>
public sealed record OperationWish(
    string Operation,
    PersonId? Person = null,
    DateOnly? NotBefore = null,
    DateTimeOffset? At = null
)
{
    /// <summary>The wished beginning while it is still to come; one that has passed wishes nothing.</summary>
    public DateTimeOffset? BeginsAt(DateTimeOffset now) => At >= now ? At : null;

    public bool IsEmpty => Person is null && NotBefore is null && At is null;
}
