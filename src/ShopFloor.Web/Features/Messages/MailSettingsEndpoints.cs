using System.Text.Json;
using ShopFloor.Application.Common;
using ShopFloor.Application.Messages;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Messages;

/// <summary>The mail server and the templates of messages, for the owner.</summary>
public sealed class MailSettingsEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/shop/mail", ReadAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("The mail server; its password is never given back.")
            .Produces<MailSettingsView>();
        api.MapPut("/shop/mail", ChangeAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Sets the mail server up; an absent password stays as it is, an empty one is removed.")
            .Produces<MailSettingsView>();
        api.MapPost("/shop/mail/test", TestAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Sends one test message by the stored settings and says what went wrong.")
            .Produces<TestMail.Result>();
        api.MapGet("/shop/message-templates", TemplatesAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Templates of all messages, with what they may fill in and their versions.");
        api.MapPut("/shop/message-templates/{kind}/{language}", ChangeTemplateAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Gives a template new words; an unknown word in braces is named at its field.")
            .Produces<MessageTemplateView>();
        api.MapPost("/shop/message-templates/{kind}/{language}/reset", ResetAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Goes back to the words that come with the program.")
            .Produces<MessageTemplateView>();
        api.MapPost("/shop/message-templates/{kind}/preview", PreviewAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Shows how words would read, on invented data; nothing is stored.")
            .Produces<WrittenMessage>();
    }

    private static async Task<IResult> ReadAsync(ApiCall call, ReadMailSettings read) =>
        (await read.RunAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChangeAsync(
        ApiCall call,
        Body<MailSettings.Details> body,
        ChangeMailSettings change
    ) => (await change.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> TestAsync(ApiCall call, Body<TestMail.Request> body, TestMail test) =>
        (await test.RunAsync(body.Value, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> TemplatesAsync(ApiCall call, ReadMessageTemplates read) =>
        (await read.AllAsync(call.Actor, call.Cancellation)).ToHttp(items => new
        {
            items,
            page = 1,
            pageSize = PageRequest.LargestSize,
            totalCount = items.Count,
        });

    private static async Task<IResult> ChangeTemplateAsync(
        string kind,
        string language,
        ApiCall call,
        Body<ChangeMessageTemplate.Request> body,
        ChangeMessageTemplate change
    ) =>
        KindOf(kind) is { } known
            ? (await change.RunAsync(known, language, body.Value, call.Envelope(), call.Cancellation)).ToHttp()
            : Unknown();

    private static async Task<IResult> ResetAsync(
        string kind,
        string language,
        ApiCall call,
        ChangeMessageTemplate change
    ) =>
        KindOf(kind) is { } known
            ? (await change.ResetAsync(known, language, call.Envelope(), call.Cancellation)).ToHttp()
            : Unknown();

    private static async Task<IResult> PreviewAsync(
        string kind,
        ApiCall call,
        Body<ChangeMessageTemplate.Request> body,
        PreviewMessage preview
    ) =>
        KindOf(kind) is { } known
            ? (await preview.RunAsync(known, body.Value, call.Actor, call.Cancellation)).ToHttp()
            : Unknown();

    /// <summary>By its word in camelCase, written exactly.</summary>
    private static MessageKind? KindOf(string word) =>
        MessageKinds
            .All.Where(k => JsonNamingPolicy.CamelCase.ConvertName(k.ToString()) == word)
            .Cast<MessageKind?>()
            .FirstOrDefault();

    private static IResult Unknown() => Failure.Missing("kind of message").ToProblem();
}
