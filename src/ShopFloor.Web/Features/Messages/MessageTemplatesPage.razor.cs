using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Messages;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Messages;

/// <summary>The owner's words for each message, in each language.</summary>
public partial class MessageTemplatesPage(
    ReadMessageTemplates read,
    ChangeMessageTemplate change,
    PreviewMessage previewing,
    ShopHead head
)
{
    private IReadOnlyList<MessageTemplateView> templates = [];
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private MessageKind kind = MessageKind.QuoteSent;
    private string language = MessageLanguages.English;
    private string? subject;
    private string? body;
    private WrittenMessage? preview;
    private IReadOnlyList<FieldError> errors = [];
    private bool isBusy;

    private MessageTemplateView? Shown => templates.FirstOrDefault(t => t.Kind == kind && t.Language == language);

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.AllAsync(Actor, Closing);
        templates = outcome.IsSuccess ? outcome.Value : [];
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        Edit();
        return outcome.Failure;
    }

    private void Edit()
    {
        (subject, body, preview, errors) = (Shown?.Subject, Shown?.Body, null, []);
    }

    private void ChooseKind(ChangeEventArgs args)
    {
        kind = Enum.TryParse<MessageKind>(args.Value?.ToString(), out var chosen) ? chosen : kind;
        Edit();
    }

    private void ChooseLanguage(ChangeEventArgs args)
    {
        language = args.Value?.ToString() ?? language;
        Edit();
    }

    private void Take(MessageTemplateVersion version) =>
        (subject, body, preview) = (version.Subject, version.Body, null);

    private async Task PreviewAsync()
    {
        var outcome = await previewing.RunAsync(kind, new ChangeMessageTemplate.Request(subject, body), Actor, Closing);
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        preview = outcome.IsSuccess ? outcome.Value : null;
    }

    private Task SaveAsync() =>
        StoreAsync(
            () =>
                change.RunAsync(
                    kind,
                    language,
                    new ChangeMessageTemplate.Request(subject, body),
                    Envelope(NewKey(), Shown?.Edition),
                    Closing
                ),
            "Saved. The next message of this kind says it so."
        );

    private Task ResetAsync() =>
        StoreAsync(
            () => change.ResetAsync(kind, language, Envelope(NewKey(), Shown?.Edition), Closing),
            "The shipped words are used again; yours stay among the versions."
        );

    private async Task StoreAsync(Func<Task<Outcome<MessageTemplateView>>> act, string done)
    {
        isBusy = true;
        var outcome = await act();
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out _, done))
        {
            await ReloadAsync();
        }
    }

    private RenderFragment Said(string path) => FieldSaid.Of(errors, path);

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);
}
