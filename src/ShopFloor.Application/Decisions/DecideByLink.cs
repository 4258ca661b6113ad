using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Application.Diary;
using ShopFloor.Application.Intake.Parts;
using ShopFloor.Application.Quoting;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Decisions;

/// <summary>The customer says by a link what it is for: once, by name where it binds, for exactly what was shown.</summary>
public sealed class DecideByLink(CommandRunner runner, IDbContextFactory<ShopDbContext> contexts, TimeProvider clock)
    : IUseCase
{
    /// <param name="Do">accept, decline, tell or ask.</param>
    /// <param name="Choice">The quote, change order or appointment that is taken.</param>
    /// <param name="ContentHash">The hash that was shown with it.</param>
    /// <param name="Name">Typed by the customer under a yes.</param>
    /// <param name="Text">A reason, a question or a last word.</param>
    /// <param name="Day">When a part comes.</param>
    public sealed record Request(
        string? Do,
        Guid? Choice = null,
        string? ContentHash = null,
        string? Name = null,
        string? Text = null,
        DateOnly? Day = null
    );

    /// <param name="token">From the address.</param>
    /// <param name="request">What was said.</param>
    /// <param name="key">Of the form as it was shown: pressed twice, it is one answer.</param>
    /// <param name="ct">Gives up.</param>
    public async Task<Outcome<Done>> RunAsync(string token, Request request, string? key, CancellationToken ct)
    {
        var hash = ProgressToken.Hash(token);
        await using var db = await contexts.CreateDbContextAsync(ct);
        var found = await db.Set<DecisionLink>().AsNoTracking().SingleOrDefaultAsync(l => l.TokenHash == hash, ct);
        return found?.IsValidAt(clock.GetUtcNow()) == true
            ? await runner.RunUncheckedAsync(
                new Envelope(Actor.OfLink(found.Id.Value), null, key, $"decisionLink {found.Id}"),
                request,
                scope => ActAsync(scope, found.Id, request),
                ct
            )
            : Failure.Missing("page");
    }

    private static async Task<Outcome<Done>> ActAsync(CommandScope scope, DecisionLinkId id, Request request)
    {
        var link = await scope.Db.Set<DecisionLink>().SingleAsync(l => l.Id == id, scope.Cancellation);
        if (!link.IsValidAt(scope.Now))
        {
            return Failure.Missing("page");
        }

        var before = DecisionEvents.Facts(link);
        if (request.Do == "ask")
        {
            return await WriteAsync(scope, link, request.Text, isLast: false, before);
        }

        if (AnswerOf(link.Kind, request.Do) is not { } answer)
        {
            return Failure.Field("do", "This link is for something else. Load the page again.");
        }

        if (!link.Use(answer, scope.Now).TryGet(out _, out var failure))
        {
            return failure;
        }

        var done = (link.Kind, answer) switch
        {
            (DecisionKind.Quote, DecisionAnswer.Accepted) => await TakeQuoteAsync(scope, link, request),
            (DecisionKind.Quote, _) => await DeclineQuotesAsync(scope, link, request),
            (DecisionKind.Change, _) => await AnswerChangeAsync(scope, link, request, answer),
            (DecisionKind.PartDay, _) => await TellDayAsync(scope, link, request),
            (DecisionKind.Appointment, _) => await AnswerTimeAsync(scope, link, request, answer),
            _ => await WriteAsync(scope, link, request.Text, isLast: true, before: null),
        };
        if (done.IsSuccess)
        {
            scope.Record(DecisionEvents.Of("decisionLink.answered", link, before));
        }

        return done;
    }

    private static DecisionAnswer? AnswerOf(DecisionKind kind, string? word) =>
        (kind, word) switch
        {
            (DecisionKind.Quote or DecisionKind.Change, "accept") => DecisionAnswer.Accepted,
            (DecisionKind.Quote or DecisionKind.Change, "decline") => DecisionAnswer.Declined,
            (DecisionKind.Appointment, "accept") => DecisionAnswer.Accepted,
            (DecisionKind.PartDay or DecisionKind.LastWord or DecisionKind.Appointment, "tell") => DecisionAnswer.Told,
            _ => null,
        };

    /// <summary>The chosen quote is accepted; the others of the link are closed, since the customer decided against them.</summary>
    private static async Task<Outcome<Done>> TakeQuoteAsync(CommandScope scope, DecisionLink link, Request request)
    {
        var quotes = await QuotesOfAsync(scope, link);
        if (quotes.Find(q => q.Id.Value == request.Choice) is not { } chosen)
        {
            return Failure.Field("choice", "Choose one of the offers.");
        }

        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        if (!chosen.Accept(request.Name, request.ContentHash, today, scope.Now).TryGet(out _, out var failure))
        {
            return failure;
        }

        scope.Record(QuoteEvents.Of("quote.accepted", chosen));
        foreach (var other in quotes.Where(q => q != chosen && q.State == QuoteState.Sent))
        {
            if (
                !other
                    .Decline(
                        LostReason.Other,
                        $"{chosen.Number} revision {chosen.Revision} was chosen instead.",
                        scope.Now
                    )
                    .TryGet(out _, out failure)
            )
            {
                return failure;
            }

            scope.Record(QuoteEvents.Of("quote.declined", other));
        }

        return Outcome.Ok;
    }

    private static async Task<Outcome<Done>> DeclineQuotesAsync(CommandScope scope, DecisionLink link, Request request)
    {
        var open = (await QuotesOfAsync(scope, link)).Where(q => q.State == QuoteState.Sent).ToList();
        if (open.Count == 0)
        {
            return Failure.Because("closed", "There is nothing left to decline. Load the page again.");
        }

        foreach (var quote in open)
        {
            if (!quote.Decline(LostReason.Other, request.Text, scope.Now).TryGet(out _, out var failure))
            {
                return failure;
            }

            scope.Record(QuoteEvents.Of("quote.declined", quote));
        }

        return Outcome.Ok;
    }

    private static Task<List<Quote>> QuotesOfAsync(CommandScope scope, DecisionLink link)
    {
        var ids = link.Subjects.Select(QuoteId.From).ToList();
        return scope.Db.Set<Quote>().Where(q => ids.Contains(q.Id)).ToListAsync(scope.Cancellation);
    }

    private static async Task<Outcome<Done>> AnswerChangeAsync(
        CommandScope scope,
        DecisionLink link,
        Request request,
        DecisionAnswer answer
    )
    {
        var id = ChangeOrderId.From(link.Subject);
        var outcome =
            answer == DecisionAnswer.Accepted
                ? await ChangeCommand.InScopeAsync(
                    scope,
                    id,
                    "changeOrder.approved",
                    (s, change, job) =>
                        ApproveChange.ActAsync(s, change, job, request.Name, request.ContentHash, ApprovalWay.ByLink)
                )
                : await ChangeCommand.InScopeAsync(
                    scope,
                    id,
                    "changeOrder.declined",
                    (s, change, _) =>
                        Task.FromResult(
                            change.Decline(
                                string.IsNullOrWhiteSpace(request.Text) ? "Declined by the link." : request.Text,
                                null,
                                s.Now
                            )
                        )
                );
        return outcome.Then(_ => Outcome.Ok);
    }

    private static async Task<Outcome<Done>> TellDayAsync(CommandScope scope, DecisionLink link, Request request)
    {
        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        if (link.Sign(request.Name).Failure is { } unnamed)
        {
            return unnamed;
        }

        if (request.Day is not { } due || due < today)
        {
            return Failure.Field("day", "Choose today or a later day.");
        }

        var id = CustomerPartId.From(link.Subject);
        var part = await scope.Db.Set<CustomerPart>().SingleAsync(p => p.Id == id, scope.Cancellation);
        if (request.ContentHash != part.ContentHash)
        {
            return Failure.Because(
                "contentHash",
                "What was asked is not what holds now. Read it once more and answer again."
            );
        }

        var before = PartTrace.Of(part);
        var changed = part.Change(new CustomerPartDetails(part.What, part.Code, due, part.Note), today);
        if (changed.Failure is Failure.Invalid invalid)
        {
            return Failure.Field("day", invalid.Errors[0].Text);
        }

        if (changed.IsSuccess)
        {
            scope.Record(
                new EventDraft(
                    "customerPart.changed",
                    "customerPart",
                    part.Id.Value,
                    part.JobId,
                    before,
                    PartTrace.Of(part)
                )
            );
        }

        return changed;
    }

    /// <summary>A yes with a name, or the words about another time, which wait for the front desk like a question.</summary>
    private static async Task<Outcome<Done>> AnswerTimeAsync(
        CommandScope scope,
        DecisionLink link,
        Request request,
        DecisionAnswer answer
    )
    {
        var id = AppointmentId.From(link.Subject);
        var time = await scope.Db.Set<Appointment>().SingleAsync(a => a.Id == id, scope.Cancellation);
        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        if (await AppointmentBook.WhyOverAsync(scope.Db, time, today, scope.Cancellation) is { } over)
        {
            return Failure.Because("closed", over.Sentence());
        }

        if (answer == DecisionAnswer.Told && string.IsNullOrWhiteSpace(request.Text))
        {
            return Failure.Field("when", "Say which times would suit you.");
        }

        var before = AppointmentBook.Facts(time);
        var taken =
            answer == DecisionAnswer.Accepted
                ? time.Confirm(request.Name, request.ContentHash, today, scope.Now)
                : time.AskOther(request.ContentHash, today, scope.Now);
        if (taken.Failure is { } refused)
        {
            return refused;
        }

        scope.Record(
            new EventDraft(
                "appointment.answered",
                "appointment",
                id.Value,
                time.JobId,
                before,
                AppointmentBook.Facts(time)
            )
        );
        return answer == DecisionAnswer.Accepted
            ? Outcome.Ok
            : await WriteAsync(scope, link, request.Text, isLast: false, before: new { });
    }

    private static async Task<Outcome<Done>> WriteAsync(
        CommandScope scope,
        DecisionLink link,
        string? text,
        bool isLast,
        object? before
    )
    {
        if (!isLast && link.Ask().Failure is { } enough)
        {
            return enough;
        }

        var written = CustomerWord.Write(scope.NewId<CustomerWordId>(), link, text, isLast, scope.Now);
        if (!written.TryGet(out var word, out var failure))
        {
            return failure;
        }

        scope.Db.Add(word);
        scope.Record(
            new EventDraft(
                isLast ? "customerWord.last" : "customerWord.asked",
                "customerWord",
                word.Id.Value,
                link.JobId,
                before is null ? null : new { questions = link.QuestionsAsked - 1 },
                new { questions = link.QuestionsAsked, link = link.Id }
            )
        );
        await scope.SaveAsync();
        return Outcome.Ok;
    }
}
