using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Progress;

/// <summary>Papers that the shop may put on the customer's page; each is shown only where it exists.</summary>
public enum ProgressPaper
{
    /// <summary>The accepted quote.</summary>
    Quote,

    /// <summary>Invoices and credit notes.</summary>
    Invoices,

    /// <summary>The frozen record of the sign-off.</summary>
    InspectionPack,
}

/// <summary>What the shop has chosen to show on one job's page beyond how far it is. Nothing, until it chooses.</summary>
public sealed class ProgressSharing : IVersioned
{
    private ProgressSharing() { }

    public ProgressSharing(JobId jobId) => JobId = jobId;

    public JobId JobId { get; private set; }

    public long Version { get; private set; }

    public bool ShowsPrices { get; private set; }

    public IReadOnlyList<ProgressPaper> Papers { get; private set; } = [];

    /// <summary>Between which days the car will likely be done, by the newest forecast.</summary>
    public bool ShowsForecast { get; private set; }

    /// <summary>The move of the promised day that <see cref="Reason"/> explains; a later move is not explained by it.</summary>
    public DateTimeOffset? ReasonOf { get; private set; }

    /// <summary>Why the day was moved, in words for the customer.</summary>
    public string? Reason { get; private set; }

    /// <param name="showsForecast">Null leaves it as it is.</param>
    public void Choose(bool showsPrices, IEnumerable<ProgressPaper> papers, bool? showsForecast = null) =>
        (ShowsPrices, Papers, ShowsForecast) = (
            showsPrices,
            [.. papers.Distinct().Order()],
            showsForecast ?? ShowsForecast
        );

    /// <summary>Tells the customer why the day was moved the last time. The reason written down for the move itself may be internal, so it is handed in again or other words are.</summary>
    public Outcome<Done> Explain(PromiseMove? move, string? text)
    {
        if (move is null)
        {
            return Failure.Because("notMoved", "The promised day was never moved; there is nothing to explain.");
        }

        var errors = new FieldErrors();
        var clean = TextRules.Required(text, "text", "The reason", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (ReasonOf, Reason) = (move.At, clean);
        return Outcome.Ok;
    }

    public void TakeReasonBack() => (ReasonOf, Reason) = (null, null);

    /// <summary>The reason, if it belongs to this move.</summary>
    public string? ReasonFor(PromiseMove move) => ReasonOf == move.At ? Reason : null;
}

/// <summary>A few words of the shop to the customer of a job, on the customer's page until they are taken back. Notes of the shop for itself are other things.</summary>
public sealed class CustomerNote : IVersioned
{
    public const int LongestText = 500;

    /// <summary>Most notes that stand on one page.</summary>
    public const int MostOfJob = 20;

    private CustomerNote() { }

    public CustomerNoteId Id { get; private set; }

    public JobId JobId { get; private set; }

    public long Version { get; private set; }

    /// <summary>Null after the customer was forgotten.</summary>
    public string? Text { get; private set; }

    public DateTimeOffset WrittenAt { get; private set; }

    public DateTimeOffset? WithdrawnAt { get; private set; }

    public static Outcome<CustomerNote> Write(CustomerNoteId id, JobId job, string? text, DateTimeOffset at)
    {
        var errors = new FieldErrors();
        var clean = TextRules.Required(text, "text", "The note", LongestText, errors);
        return errors.Any
            ? errors.ToFailure()
            : new CustomerNote
            {
                Id = id,
                JobId = job,
                Text = clean,
                WrittenAt = at,
            };
    }

    /// <summary>Takes it off the page; again changes nothing.</summary>
    public void Withdraw(DateTimeOffset at) => WithdrawnAt ??= at;

    public void ErasePersonalData(DateTimeOffset at)
    {
        Text = null;
        Withdraw(at);
    }
}
