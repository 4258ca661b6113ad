using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Diary;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Web.Features.Week;

namespace ShopFloor.Web.Features.Diary;

/// <summary>The front desk's days: what is late, whom to call, what comes, and how full the shop is.</summary>
public partial class DiaryPage(ReadDiary read, KeepReminders keep)
{
    private const string JobWord = "job:";
    private const string CustomerWord = "customer:";

    private DiaryView? diary;
    private string? loaded;
    private bool isBusy;
    private bool isOpen;
    private string? text;
    private DateOnly? day;
    private TimeOnly? time;
    private string about = "";
    private IReadOnlyList<FieldError> errors = [];

    /// <summary>First day as YYYY-MM-DD; absent: today.</summary>
    [SupplyParameterFromQuery]
    public string? From { get; set; }

    private bool MayChange => Actor.May(Permission.BookIn);

    protected override async Task OnParametersSetAsync()
    {
        if (!IsLoading && From != loaded)
        {
            await ReloadAsync();
        }

        await base.OnParametersSetAsync();
    }

    protected override async Task<Failure?> LoadAsync()
    {
        loaded = From;
        if (!WeekEndpoints.TryReadDay(From, out var first))
        {
            return Failure.Field("from", $"'{From}' is no day. Take one of the links above.");
        }

        if (!(await read.RunAsync(first, null, Actor, Closing)).TryGet(out diary, out var failure))
        {
            return failure;
        }

        day ??= diary.Today;
        return null;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.JobId is not null || notice.Subject is "quote" or "reminder" or "customer" or "shop" or "person";

    private async Task WriteAsync()
    {
        if (isBusy)
        {
            return;
        }

        isBusy = true;
        var request = new KeepReminders.WriteRequest(
            text,
            day,
            time?.ToString(Appointment.Clock, CultureInfo.InvariantCulture),
            IdAfter(JobWord),
            IdAfter(CustomerWord)
        );
        var outcome = await keep.WriteAsync(request, Envelope(NewKey()), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out _, "Written down."))
        {
            (text, time, about, day) = (null, null, "", null);
            await ReloadAsync();
        }
    }

    /// <summary>The id chosen in the list, where it is of this sort.</summary>
    private Guid? IdAfter(string word) =>
        about.StartsWith(word, StringComparison.Ordinal) && Guid.TryParse(about[word.Length..], out var id) ? id : null;

    private Task TickAsync(DiaryLine line) =>
        ChangeAsync(
            line,
            new KeepReminders.ChangeRequest(IsDone: line.Standing != DiaryStanding.Done),
            line.Standing == DiaryStanding.Done ? "Open again." : "Done."
        );

    private Task MoveAsync((DiaryLine Line, DateOnly Day) move) =>
        ChangeAsync(
            move.Line,
            new KeepReminders.ChangeRequest(Day: move.Day),
            $"Moved to {DiaryWords.LongDay(move.Day)}."
        );

    private async Task ChangeAsync(DiaryLine line, KeepReminders.ChangeRequest request, string done)
    {
        // The second click of a double click arrives before the button is seen to be disabled.
        if (isBusy)
        {
            return;
        }

        isBusy = true;
        var envelope = Envelope(NewKey(), line.Version);
        if (Accepted(await keep.ChangeAsync(line.Reminder!.Value, request, envelope, Closing), out _, done))
        {
            await ReloadAsync();
        }

        isBusy = false;
    }

    private string To(int days) =>
        diary is null
            ? "diary"
            : $"diary?from={diary.From.AddDays(days).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}";

    private static string LinkOf(DiaryCall call) =>
        call.Quote is { } quote ? $"quotes/{quote.Value}"
        : call.Reason == CallReason.BalanceOpen ? $"jobs/{call.Job!.Value.Value}/account"
        : $"jobs/{call.Job!.Value.Value}";

    private static string Stand(DiaryEnquiry enquiry) =>
        enquiry.IsAccepted ? "accepted, no job yet"
        : enquiry.SentOn is { } sent
            ? $"sent {DiaryWords.Day(sent)}{(enquiry.ValidUntil is { } until ? $", holds until {DiaryWords.Day(until)}" : "")}"
        : $"draft of {DiaryWords.Day(enquiry.CreatedOn)}";
}
