using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Messages;

/// <summary>Forgets to whom messages went and what they said; what still waits is taken back.</summary>
public static class MessageErasure
{
    public static async Task EraseAsync(CommandScope scope, CustomerId customer, IReadOnlyCollection<JobId> jobs)
    {
        ArgumentNullException.ThrowIfNull(scope);
        var quotes = await scope
            .Db.Set<Quote>()
            .Where(q => q.CustomerId == customer)
            .Select(q => q.Id)
            .ToListAsync(scope.Cancellation);
        var subjects = quotes.ConvertAll(q => q.Value);
        var messages = await scope
            .Db.Set<OutboxMessage>()
            .Where(m =>
                m.CustomerId == customer
                || (m.JobId != null && jobs.Contains(m.JobId.Value))
                || subjects.Contains(m.SubjectId)
            )
            .ToListAsync(scope.Cancellation);
        messages.ForEach(m => m.ForgetPerson(scope.Now));
    }
}
