using Microsoft.AspNetCore.Http.HttpResults;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Api;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Features.Photos;

/// <summary>The page behind an upload link: a phone without an account adds photos to one job and sees nothing of it.</summary>
public sealed class PhoneUpload : IEndpoints
{
    /// <summary>Links are built from the configured address, never from a request.</summary>
    public static string AddressOf(Hosting.Settings settings, string token) => $"{settings.PublicUrl}/u/{token}";

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/u/{token}", ShowAsync).AllowAnonymous().ExcludeFromDescription();
        // The token in the address is the only secret: there is no cookie that another site could ride on.
        app.MapPost("/u/{token}", TakeAsync).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
    }

    private static async Task<IResult> ShowAsync(string token, HttpContext http, AddPhotoByLink link) =>
        (await link.FindAsync(token, http.RequestAborted)).TryGet(out var open, out _)
            ? Page(http, open, null, null)
            : Gone(http);

    private static async Task<IResult> TakeAsync(string token, HttpContext http, AddPhotoByLink link)
    {
        var ct = http.RequestAborted;
        if (!(await link.FindAsync(token, ct)).IsSuccess)
        {
            return Gone(http);
        }

        var key = http.Request.Headers["Idempotency-Key"] is [{ Length: > 0 } given] ? given : null;
        var taken = (await PhotoUpload.ReadAsync(http.Request, ct)).TryGet(out var upload, out var failure)
            ? await link.RunAsync(token, upload.File, key, ct)
            : failure;
        // The script asks for a plain sentence; a phone without script gets the page again.
        if (http.Request.Headers.Accept == "application/json")
        {
            return taken.Match(_ => Results.Json(new { added = true }), f => f.ToProblem());
        }

        return (await link.FindAsync(token, ct)).TryGet(out var open, out _)
            ? Page(http, open, taken.IsSuccess, taken.Failure)
            : Gone(http);
    }

    private static RazorComponentResult<PhoneUploadPage> Page(
        HttpContext http,
        OpenUploadLink open,
        bool? wasAdded,
        Failure? failure
    )
    {
        http.Response.Headers.CacheControl = "no-store";
        http.Response.Headers["Referrer-Policy"] = "no-referrer";
        return new(
            new
            {
                open.JobNumber,
                What = open.Kind == PhotoKind.HandOver ? "hand-over" : "walk-round",
                open.ExpiresAt,
                open.PhotosTaken,
                WasAdded = wasAdded ?? false,
                Problem = failure?.Sentence,
            }
        )
        {
            PreventStreamingRendering = true,
            StatusCode = failure is null ? StatusCodes.Status200OK : StatusCodes.Status400BadRequest,
        };
    }

    /// <summary>Wrong, expired and revoked links look the same.</summary>
    private static RazorComponentResult<PhoneUploadGone> Gone(HttpContext http)
    {
        http.Response.Headers.CacheControl = "no-store";
        return new() { StatusCode = StatusCodes.Status404NotFound };
    }
}
