using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Web.Features.Progress;

/// <summary>The only script of the customer's page: puts the newest state in place when the shop changed something. Without it the page is read again by hand or by time.</summary>
internal static class ProgressScript
{
    /// <summary>Sent when the page reads itself anew.</summary>
    public const string AgainHeader = "X-Again";

    public const string Text = """
        (() => {
          let isOld = false;
          const read = async () => {
            if (document.hidden) { isOld = true; return; }
            isOld = false;
            const answer = await fetch(location.href, { cache: "no-store", headers: { "X-Again": "1" } });
            if (!answer.ok) { location.reload(); return; }
            const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
            for (const part of ["header", "main", "footer"]) document.querySelector(part).replaceWith(document.adoptNode(fresh.querySelector(part)));
          };
          const again = () => read().catch(() => { isOld = true; });
          const source = new EventSource(location.pathname + "/changes?after=" + document.documentElement.dataset.seen);
          source.onmessage = again;
          source.onerror = () => { isOld = true; if (source.readyState === EventSource.CLOSED) setInterval(again, 60000); };
          source.onopen = () => isOld && again();
          document.addEventListener("visibilitychange", () => !document.hidden && isOld && again());
        })();
        """;

    /// <summary>For <c>script-src</c>.</summary>
    public static string Source { get; } =
        $"'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(Text)))}'";
}
