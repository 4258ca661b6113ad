using ShopFloor.Domain.Planning.JobShop;

namespace ShopFloor.Solvers.JobShop;

/// <summary>
/// Makes a plan better by moves along its critical path, forbidding for a while what was just undone, and goes on from the best one with a few moves at
/// random when nothing better comes (E. Nowicki, C. Smutnicki, A fast taboo search algorithm for the job shop problem, Management Science 42, 1996, from memory).
/// </summary>
internal sealed class TabuSearch
{
    /// <summary>Moves without anything better after which it goes on from the best plan, a little shaken.</summary>
    private const int Patience = 3_000;

    /// <summary>Moves for each operation without anything better after which it gives up: who proves has better use for the time.</summary>
    private const int EnoughPerOperation = 300;
    private const int ForbiddenBits = 16;

    private readonly JobShopProblem problem;
    private readonly JobShopSequence sequence;
    private readonly CriticalMoves moves;
    private readonly Random random;

    /// <summary>Until which step it is forbidden that one operation comes before another, by a hash of the two: a collision forbids a little more.</summary>
    private readonly int[] forbiddenUntil = new int[1 << ForbiddenBits];
    private int step;

    private TabuSearch(JobShopProblem problem, JobShopPlan plan, int seed)
    {
        this.problem = problem;
        sequence = new JobShopSequence(problem, plan);
        moves = new CriticalMoves(sequence);
        random = new Random(seed);
    }

    /// <summary>The best plan found: the given one where none is better.</summary>
    /// <param name="isOver">Asked after each step.</param>
    public static JobShopPlan Improve(JobShopProblem problem, JobShopPlan plan, int seed, Func<bool> isOver) =>
        new TabuSearch(problem, plan, seed).Run(isOver) ?? plan;

    private JobShopPlan? Run(Func<bool> isOver)
    {
        var (best, kept) = (sequence.Makespan, sequence.Kept());
        var enough = EnoughPerOperation * sequence.Count;
        var (improvedAt, shakenAt) = (0, 0);
        for (step = 1; best > problem.LowerBound && step - improvedAt <= enough && !isOver(); step++)
        {
            if (step - Math.Max(improvedAt, shakenAt) > Patience || !Step(best))
            {
                sequence.Restore(kept);
                Array.Clear(forbiddenUntil);
                Shake();
                shakenAt = step;
            }

            if (sequence.Makespan < best)
            {
                (best, kept, improvedAt) = (sequence.Makespan, sequence.Kept(), step);
            }
        }

        sequence.Restore(kept);
        return sequence.ToPlan(problem);
    }

    /// <summary>False where the path allows no move at all.</summary>
    private bool Step(long best)
    {
        var possible = moves.Along(sequence.CriticalPath(random));
        CriticalMove? chosen = null;
        var among = 0;
        foreach (var move in possible)
        {
            if (move.Estimate >= best && IsForbidden(move))
            {
                continue;
            }

            if (chosen is not { } other || move.Estimate < other.Estimate)
            {
                (chosen, among) = (move, 1);
            }
            else if (move.Estimate == other.Estimate && random.Next(++among) == 0)
            {
                chosen = move;
            }
        }

        // All forbidden: any will do.
        return (chosen ?? (possible.Count > 0 ? possible[random.Next(possible.Count)] : null)) is { } made
            && Make(made);
    }

    private bool Make(CriticalMove move)
    {
        var from = sequence.Before[move.Operation];
        Forbid(move);
        sequence.Move(move.Operation, move.Other, move.IsBehind);
        if (sequence.TryMeasure())
        {
            return true;
        }

        // Operations of no length can make a circle that the rule of the moves does not see.
        if (from >= 0)
        {
            sequence.Move(move.Operation, from, isBehind: true);
        }
        else
        {
            sequence.Move(move.Operation, First(move.Operation), isBehind: false);
        }

        return sequence.TryMeasure();
    }

    private int First(int operation)
    {
        while (sequence.Before[operation] is var before and >= 0)
        {
            operation = before;
        }

        return operation;
    }

    private void Shake()
    {
        for (var k = random.Next(5, 15); k > 0; k--)
        {
            var possible = moves.Along(sequence.CriticalPath(random));
            if (possible.Count > 0)
            {
                Make(possible[random.Next(possible.Count)]);
            }
        }
    }

    private void Forbid(CriticalMove move)
    {
        var until = step + random.Next(12, 28);
        for (var at = move.Operation; at != move.Other; )
        {
            at = Next(move, at);
            forbiddenUntil[move.IsBehind ? Slot(move.Operation, at) : Slot(at, move.Operation)] = until;
        }
    }

    private bool IsForbidden(CriticalMove move)
    {
        for (var at = move.Operation; at != move.Other; )
        {
            at = Next(move, at);
            if (forbiddenUntil[move.IsBehind ? Slot(at, move.Operation) : Slot(move.Operation, at)] >= step)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The next of those that the moved one comes to stand on the other side of.</summary>
    private int Next(CriticalMove move, int at) => move.IsBehind ? sequence.Behind[at] : sequence.Before[at];

    private static int Slot(int first, int second) =>
        (int)(unchecked(((uint)first * 0x9E3779B1u) + ((uint)second * 0x85EBCA77u)) >> (32 - ForbiddenBits));
}
