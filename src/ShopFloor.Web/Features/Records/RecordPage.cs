using ShopFloor.Application.Inspection.Packs;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Progress;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Records;

/// <summary>The public page at <c>/record/{hash}</c>: whether a record exists unchanged, and whether a file is that record. No account, no cookie, no script; nothing of what the record says.</summary>
public sealed class RecordPage : IEndpoints
{
    private static readonly string Policy =
        $"default-src 'none'; style-src {ProgressStyle.Source}; img-src data:; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

    /// <summary>Public address of a record.</summary>
    public static string UrlOf(Hosting.Settings settings, string hash) => $"{settings.PublicUrl}/record/{hash}";

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/record/{hash}", ShowAsync).AllowAnonymous().ExcludeFromDescription();
        // The file is hashed and forgotten and nothing is changed, so nobody's session can be abused by it.
        app.MapPost("/record/{hash}", CheckAsync).AllowAnonymous().ExcludeFromDescription().DisableAntiforgery();
    }

    private static async Task<IResult> ShowAsync(
        string hash,
        HttpContext context,
        CheckRecord check,
        IServiceProvider services,
        ILoggerFactory loggers
    ) => await PageAsync(await check.FindAsync(hash, context.RequestAborted), null, 200, context, services, loggers);

    private static async Task<IResult> CheckAsync(
        string hash,
        HttpContext context,
        CheckRecord check,
        IServiceProvider services,
        ILoggerFactory loggers
    )
    {
        var standing = await check.FindAsync(hash, context.RequestAborted);
        if (standing is null)
        {
            return await PageAsync(null, null, 404, context, services, loggers);
        }

        var file = await UploadedFile.ReadAsync(
            context.Request,
            CheckRecord.LargestFile,
            "A record",
            context.RequestAborted
        );
        var (answer, status) = file.Match(
            bytes => (FileAnswer.Of(CheckRecord.IsRecord(bytes.Span, hash)), 200),
            failure => (new FileAnswer(failure.Sentence, false), failure is Domain.Common.Failure.TooLarge ? 413 : 400)
        );
        return await PageAsync(standing, answer, status, context, services, loggers);
    }

    private static async Task<IResult> PageAsync(
        RecordStanding? standing,
        FileAnswer? answer,
        int status,
        HttpContext context,
        IServiceProvider services,
        ILoggerFactory loggers
    )
    {
        return await StandaloneHtml.AnswerAsync<RecordDocument>(
            context,
            Policy,
            standing is null ? 404 : status,
            new Dictionary<string, object?>
            {
                [nameof(RecordDocument.Standing)] = standing,
                [nameof(RecordDocument.Answer)] = answer,
            },
            services,
            loggers
        );
    }
}

/// <summary>What is said of a file that was held against the record.</summary>
public sealed record FileAnswer(string Text, bool IsGood)
{
    public static FileAnswer Of(bool isRecord) =>
        isRecord
            ? new("This file is the record, unchanged.", true)
            : new(
                "This file is not the record: something in it differs. Ask the shop for the file again, and compare the paper.",
                false
            );
}
