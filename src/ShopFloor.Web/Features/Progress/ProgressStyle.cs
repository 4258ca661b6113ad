using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Web.Features.Progress;

/// <summary>The look of the customer's page, sent inside it so that one request is enough; the policy lets just this text through by its hash.</summary>
internal static class ProgressStyle
{
    public const string Css = """
        :root{--ink:#1f2326;--soft:#4c5358;--paper:#f6f5f2;--card:#fff;--line:#d5d2ca;--good:#226b35;--now:#245b8a;--wait:#8a5300;color-scheme:light dark}
        @media (prefers-color-scheme:dark){:root{--ink:#f0efec;--soft:#bfc4c8;--paper:#17191b;--card:#202427;--line:#3a4045;--good:#8fd6a0;--now:#93c4ef;--wait:#f0b65e}}
        *{box-sizing:border-box}
        body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 system-ui,"Segoe UI",Roboto,"DejaVu Sans",sans-serif}
        header,main,footer{max-width:46rem;margin:0 auto;padding:1rem}
        header{padding-top:1.25rem}
        .shop{font-weight:650;color:var(--soft);margin:0}
        h1{font-size:1.5rem;line-height:1.25;margin:.25rem 0}
        h2{font-size:1.1rem;margin:0 0 .5rem}
        p{margin:.35rem 0}
        .soft{color:var(--soft)}
        .card{background:var(--card);border:1px solid var(--line);border-radius:8px;padding:1rem;margin:0 0 1rem}
        .day{font-size:1.35rem;font-weight:650}
        .awaited{border-left:6px solid var(--wait)}
        ol.strip{list-style:none;margin:0;padding:0}
        .strip li{display:grid;grid-template-columns:2rem 1fr;gap:.1rem .5rem;padding:.55rem 0;border-top:1px solid var(--line)}
        .strip li:first-child{border-top:0}
        .glyph{font-size:1.2rem;line-height:1.3;grid-row:span 2}
        .name{font-weight:600}
        .stand{font-weight:400;color:var(--soft)}
        .text{grid-column:2;color:var(--soft);margin:0}
        .done .glyph{color:var(--good)}
        .now .glyph{color:var(--now)}
        .strip li.now{background:color-mix(in srgb,var(--now) 9%,transparent);margin:0 -.5rem;padding-left:.5rem;padding-right:.5rem;border-radius:6px}
        .now .stand{color:var(--now);font-weight:600}
        .again,footer a,.contact a{display:inline-block;min-height:44px;padding:.6rem 0;color:inherit}
        .contact li{list-style:none}
        .contact{margin:0;padding:0}
        .other{float:right;margin:0}
        .other a{display:inline-block;min-height:44px;padding:.6rem 0;color:inherit}
        .photos{display:grid;grid-template-columns:repeat(auto-fill,minmax(8.5rem,1fr));gap:.75rem}
        .pair{display:grid;grid-template-columns:1fr 1fr;gap:.75rem;margin:0 0 .75rem}
        .pair h3{grid-column:1/-1;font-size:1rem;margin:0}
        figure{margin:0;min-width:0}
        img{display:block;width:100%;height:auto;border-radius:6px;background:var(--line)}
        figcaption{color:var(--soft);font-size:.9rem}
        dl.prices{display:grid;grid-template-columns:1fr auto;gap:.25rem 1rem;margin:0}
        .prices dd{margin:0;text-align:right;font-variant-numeric:tabular-nums}
        .prices .open{font-weight:650}
        .notes p{overflow-wrap:anywhere;white-space:pre-line}
        .papers{margin:0;padding:0;list-style:none}
        .papers a{display:inline-block;min-height:44px;padding:.6rem 0;color:inherit}
        ul.plain{margin:.25rem 0;padding-left:1.2rem}
        .hash{font-family:"DejaVu Sans Mono",ui-monospace,monospace;overflow-wrap:anywhere}
        input[type=file],button{font:inherit;min-height:44px;max-width:100%}
        button{padding:.5rem 1.25rem;border:2px solid var(--now);border-radius:8px;background:var(--card);color:var(--ink);cursor:pointer}
        :focus-visible{outline:3px solid var(--now);outline-offset:2px}
        @media (min-width:44rem){
        ol.strip{display:flex;gap:.25rem;flex-wrap:wrap}
        .strip li{flex:1 1 8rem;display:block;border-top:4px solid var(--line);padding:.5rem .5rem .75rem}
        .strip li:first-child{border-top:4px solid var(--line)}
        .strip li.done,.strip li.done:first-child{border-top-color:var(--good)}
        .strip li.now,.strip li.now:first-child{border-top-color:var(--now);margin:0}
        .strip .stand{display:block}
        .text{font-size:.9rem}
        }
        @media print{body{background:#fff;color:#000}.card{border-color:#999;break-inside:avoid}.again,.other{display:none}}
        """;

    /// <summary>For <c>style-src</c>.</summary>
    public static string Source { get; } =
        $"'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(Css)))}'";
}
