using ShopFloor.Application.Common;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Floor;

/// <summary>Tells open floor pages the number of each event and its job, nothing more.</summary>
internal static class FloorChanges
{
    public static Task StreamAsync(HttpContext http, IChangeNotices changes, IHostApplicationLifetime life) =>
        ChangeStream.RunAsync(
            http,
            changes,
            life,
            notice => FormattableString.Invariant($"id: {notice.Sequence}\ndata: {{\"job\":\"{notice.JobId}\"}}")
        );
}
