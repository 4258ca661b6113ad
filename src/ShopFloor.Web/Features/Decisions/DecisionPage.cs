using ShopFloor.Application.Decisions;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Progress;
using ShopFloor.Web.Features.Progress.Words;
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
            return await PageAsync(
                view,
                DecisionForm.Empty,
                w => w["refused.elsewhere"],
                false,
                403,
                context,
                services,
                loggers
            );
        }

        var form = DecisionForm.Empty;
        var read = await DecisionForm.ReadAsync(context.Request, ct);
        if (read.TryGet(out var typed, out var failure))
        {
            form = typed;
            if ((await decide.RunAsync(token, typed.ToRequest(), typed.Key, ct)).Failure is not { } refused)
            {
                var kept = AskedLanguage.Of(context.Request).Kept;
                var asked = kept.Length == 0 ? "?asked=true" : $"{kept}&asked=true";
                return Results.Redirect($"/d/{token}{(typed.Do == "ask" ? asked : kept)}");
            }

            failure = refused;
        }

        // What stands now may be other than what was shown before the answer.
        view = await see.RunAsync(token, ct) ?? view;
        var status = failure is Failure.Refused ? 409 : 400;
        return await PageAsync(
            view,
            form,
            w => DecisionRefusals.Say(w, failure!),
            false,
            status,
            context,
            services,
            loggers
        );
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
        Func<ProgressWords, string>? problem,
        bool wasAsked,
        int status,
        HttpContext context,
        IServiceProvider services,
        ILoggerFactory loggers
    )
    {
        var asked = AskedLanguage.Of(context.Request);
        var words = asked.Choose(view.Language);
        return StandaloneHtml.AnswerAsync<DecisionDocument>(
            context,
            Policy,
            status,
            new Dictionary<string, object?>
            {
                [nameof(DecisionDocument.View)] = view,
                [nameof(DecisionDocument.Form)] = form,
                [nameof(DecisionDocument.Words)] = words,
                [nameof(DecisionDocument.Action)] = asked.Kept is { Length: > 0 } kept ? kept : "?",
                [nameof(DecisionDocument.Problem)] = problem?.Invoke(words),
                [nameof(DecisionDocument.WasAsked)] = wasAsked,
            },
            services,
            loggers
        );
    }
}
