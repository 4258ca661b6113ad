using ShopFloor.Application.Decisions;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Progress;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Decisions;

/// <summary>The customer's page at <c>/d/{token}</c> on which one thing is decided: no account, no cookie, no script. Opening it changes nothing.</summary>
public sealed class DecisionPage : IEndpoints
{
    private static readonly string Policy =
        $"default-src 'none'; style-src {DecisionStyle.Source}; img-src data:; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

    public static string UrlOf(Hosting.Settings settings, string token) => $"{settings.PublicUrl}/d/{token}";

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/d/{token}", ShowAsync).AllowAnonymous().ExcludeFromDescription();
        // The token in the address is the only secret: there is no cookie that another site could ride on; posts that a browser says come from elsewhere are refused all the same.
        app.MapPost("/d/{token}", TakeAsync).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
    }

    private static async Task<IResult> ShowAsync(
        string token,
        bool? asked,
        HttpContext context,
        SeeDecision see,
        LinkDoor door,
        IServiceProvider services,
        ILoggerFactory loggers
    )
    {
        var view = await OpenAsync(token, context, see, door);
        return view is null
            ? Results.Empty
            : await PageAsync(view, DecisionForm.Empty, null, asked == true, 200, context, services, loggers);
    }

    private static async Task<IResult> TakeAsync(
        string token,
        HttpContext context,
        DecideByLink decide,
        SeeDecision see,
        LinkDoor door,
        Hosting.Settings settings,
        IServiceProvider services,
        ILoggerFactory loggers
    )
    {
        var ct = context.RequestAborted;
        if (await OpenAsync(token, context, see, door) is not { } view)
        {
            return Results.Empty;
        }

        if (IsFromElsewhere(context.Request, settings))
        {
            const string Elsewhere = "This answer came from another site, so it was not taken. Decide here.";
            return await PageAsync(view, DecisionForm.Empty, Elsewhere, false, 403, context, services, loggers);
        }

        var form = DecisionForm.Empty;
        var read = await DecisionForm.ReadAsync(context.Request, ct);
        if (read.TryGet(out var typed, out var failure))
        {
            form = typed;
            if ((await decide.RunAsync(token, typed.ToRequest(), typed.Key, ct)).Failure is not { } refused)
            {
                return Results.Redirect(typed.Do == "ask" ? $"/d/{token}?asked=true" : $"/d/{token}");
            }

            failure = refused;
        }

        // What stands now may be other than what was shown before the answer.
        view = await see.RunAsync(token, ct) ?? view;
        var status = failure is Failure.Refused ? 409 : 400;
        return await PageAsync(view, form, failure!.Sentence, false, status, context, services, loggers);
    }

    /// <summary>What the link shows; null when it opens nothing, and then that is answered.</summary>
    private static async Task<DecisionView?> OpenAsync(
        string token,
        HttpContext context,
        SeeDecision see,
        LinkDoor door
    )
    {
        var ct = context.RequestAborted;
        var (view, isPaused) = await door.TryAsync(
            context.Connection.RemoteIpAddress,
            () => see.RunAsync(token, ct),
            ct
        );
        if (view is null)
        {
            await ClosedPage.AnswerAsync(context, isPaused);
        }

        return view;
    }

    /// <summary>A browser tells where a form was sent from; the privacy of the address makes some say "null".</summary>
    private static bool IsFromElsewhere(HttpRequest request, Hosting.Settings settings)
    {
        var site = request.Headers["Sec-Fetch-Site"].ToString();
        var origin = request.Headers.Origin.ToString();
        return site is not ("" or "same-origin" or "none")
            || (
                origin is not ("" or "null") && origin != new Uri(settings.PublicUrl).GetLeftPart(UriPartial.Authority)
            );
    }

    private static Task<IResult> PageAsync(
        DecisionView view,
        DecisionForm form,
        string? problem,
        bool wasAsked,
        int status,
        HttpContext context,
        IServiceProvider services,
        ILoggerFactory loggers
    ) =>
        StandaloneHtml.AnswerAsync<DecisionDocument>(
            context,
            Policy,
            status,
            new Dictionary<string, object?>
            {
                [nameof(DecisionDocument.View)] = view,
                [nameof(DecisionDocument.Form)] = form,
                [nameof(DecisionDocument.Problem)] = problem,
                [nameof(DecisionDocument.WasAsked)] = wasAsked,
            },
            services,
            loggers
        );
}
