using System.Text;
using System.Text.Json;
using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>Rule sets over the API: the published format, the stored versions, the owner's own sets.</summary>
public sealed class RuleSetsEndpoints : IApiEndpoints
{
    private const string Root = "/rule-sets";
    private const string One = Root + "/{code}";

    public sealed record DocumentBody(JsonElement? Document);

    public sealed record CopyBody(int? Version, string? Title);

    public sealed record SaveBody(int? FromVersion, JsonElement? Document);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/rule-set-schema", () => RuleSetFiles.Schema())
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The published format of rule-set files, a JSON Schema (2020-12).");
        api.MapGet(Root, ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The rule sets in their newest version, with figures, clauses and marks.");
        api.MapGet(One, OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("One rule set in its newest version or the one named, and the list of its versions.")
            .Produces<RuleSetView>();
        api.MapGet(One + "/versions/{version:int}/file", FileAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("One version as a file in the published format.");
        api.MapGet(One + "/compare", CompareAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary(
                "What differs, value by value: from a version of this set, or of the set named by with, to a version of this one."
            )
            .Produces<RuleSetComparison>();
        MapChanges(api);
    }

    private static void MapChanges(RouteGroupBuilder api)
    {
        api.MapPost(Root, ImportAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Takes in a rule-set file: a new set, or the next version of one of the shop's own.")
            .Produces<RuleSetView>(201);
        api.MapPost(One + "/copies", CopyAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Copies a set, so that the copy can be changed.")
            .Produces<RuleSetView>(201);
        api.MapPost(One + "/versions", SaveAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary(
                "Stores the next version of one of the shop's own sets; fromVersion is the one it was changed from."
            )
            .Produces<RuleSetView>(201);
        api.MapPost(
                One + "/withdraw",
                (string code, ApiCall call, KeepRuleSets keep) => ShelveAsync(keep.WithdrawAsync, code, call)
            )
            .RequirePermission(Permission.RunShop)
            .WithSummary("Withdraws a set from new quotes and jobs; what was built to it keeps it.")
            .Produces<RuleSetView>();
        api.MapPost(
                One + "/offer",
                (string code, ApiCall call, KeepRuleSets keep) => ShelveAsync(keep.OfferAsync, code, call)
            )
            .RequirePermission(Permission.RunShop)
            .WithSummary("Offers a withdrawn set to new quotes and jobs again.")
            .Produces<RuleSetView>();
    }

    private static async Task<IResult> ListAsync(ApiCall call, ReadRuleSets read) =>
        (await read.ListAsync(call.Actor, call.Cancellation)).ToHttp(items => new
        {
            items,
            page = 1,
            pageSize = PageRequest.LargestSize,
            totalCount = items.Count,
        });

    private static async Task<IResult> OneAsync(string code, int? version, ApiCall call, ReadRuleSets read) =>
        (await read.OneAsync(code, version, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> FileAsync(string code, int version, ApiCall call, ReadRuleSets read) =>
        RuleSetFiles.File(await read.FileAsync(code, version, call.Actor, call.Cancellation), code, version);

    private static async Task<IResult> CompareAsync(
        string code,
        string? with,
        int? from,
        int? to,
        ApiCall call,
        ReadRuleSets read
    ) => (await read.CompareAsync(code, with, from, to, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ImportAsync(ApiCall call, Body<DocumentBody> body, KeepRuleSets keep) =>
        body.Value.Document is { ValueKind: JsonValueKind.Object } document
            ? Created(await keep.ImportAsync(document.GetRawText(), call.Envelope(), call.Cancellation))
            : NoDocument.ToProblem();

    private static async Task<IResult> CopyAsync(string code, ApiCall call, Body<CopyBody> body, KeepRuleSets keep) =>
        Created(
            await keep.CopyAsync(
                code,
                new KeepRuleSets.CopyRequest(body.Value.Version, body.Value.Title),
                call.Envelope(),
                call.Cancellation
            )
        );

    private static async Task<IResult> SaveAsync(string code, ApiCall call, Body<SaveBody> body, KeepRuleSets keep)
    {
        if (body.Value.FromVersion is not { } from)
        {
            return Failure.Field("fromVersion", "Say which version was changed.").ToProblem();
        }

        if (body.Value.Document is not { ValueKind: JsonValueKind.Object } document)
        {
            return NoDocument.ToProblem();
        }

        return DataFiles.Read<RuleSetDocument>(document.GetRawText()).TryGet(out var read, out var failure)
            ? Created(
                await keep.SaveAsync(code, new KeepRuleSets.SaveRequest(from, read), call.Envelope(), call.Cancellation)
            )
            : InDocument(failure).ToProblem();
    }

    private static async Task<IResult> ShelveAsync(
        Func<string, Envelope, CancellationToken, Task<Outcome<RuleSetView>>> act,
        string code,
        ApiCall call
    ) => (await act(code, call.Envelope(), call.Cancellation)).ToHttp();

    private static IResult Created(Outcome<RuleSetView> outcome) =>
        outcome.TryGet(out var view, out var failure)
            ? Results.Created($"/api/v1/rule-sets/{view.Code}", view)
            : InDocument(failure).ToProblem();

    private static Failure NoDocument { get; } =
        Failure.Field("document", "The document is the rule set as JSON, in the published format.");

    /// <summary>Places are said as in the request, whose field the document is.</summary>
    private static Failure InDocument(Failure failure) =>
        failure is Failure.Invalid invalid
            ? new Failure.Invalid([
                .. invalid.Errors.Select(e =>
                    e with
                    {
                        Path = e.Path.StartsWith('$') ? "document" + e.Path[1..] : $"document.{e.Path}",
                    }
                ),
            ])
            : failure;
}

/// <summary>Rule sets and their format as files.</summary>
public sealed class RuleSetFiles : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/rule-sets/" + RuleSetSchema.FileName, Schema).RequirePermission(Permission.SeeFloor);
        app.MapGet("/rule-sets/{code}/file.json", VersionAsync).RequirePermission(Permission.SeeFloor);
    }

    internal static IResult Schema() =>
        Results.File(Encoding.UTF8.GetBytes(RuleSetSchema.Text), "application/schema+json", RuleSetSchema.FileName);

    internal static IResult File(Outcome<string> outcome, string code, int? version) =>
        outcome.Match(
            text =>
                Results.File(
                    Encoding.UTF8.GetBytes(text),
                    "application/json",
                    version is null ? $"{code}.json" : $"{code}-{version}.json"
                ),
            failure => failure.ToProblem()
        );

    private static async Task<IResult> VersionAsync(
        HttpContext http,
        string code,
        int? version,
        ReadRuleSets read,
        CancellationToken ct
    ) => File(await read.FileAsync(code, version, Actors.Of(http), ct), code, version);
}
