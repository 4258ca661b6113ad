using System.Security.Cryptography;
using System.Text;
using ShopFloor.Web.Features.Progress;

namespace ShopFloor.Web.Features.Decisions;

/// <summary>The look of a customer's other pages, with fields to answer in.</summary>
internal static class DecisionStyle
{
    public static string Css { get; } =
        ProgressStyle.Css
        + """
            .say{font-size:1.15rem;font-weight:600}
            .total{font-size:1.35rem;font-weight:650}
            dl.facts{margin:.5rem 0;display:grid;grid-template-columns:minmax(0,2fr) minmax(0,3fr);gap:.2rem .75rem}
            dt{color:var(--soft)}
            dd{margin:0}
            table{border-collapse:collapse;width:100%}
            td{padding:.3rem 0;border-top:1px solid var(--line);vertical-align:top}
            td:last-child{text-align:right;white-space:nowrap;padding-left:.75rem}
            label,legend{font-weight:600;display:block}
            fieldset{border:0;margin:0;padding:0;min-width:0}
            .pick{display:flex;gap:.75rem;align-items:flex-start;min-height:44px;cursor:pointer}
            .pick input{width:1.5rem;height:1.5rem;margin:.2rem 0 0;flex:none}
            input[type=text],input[type=date],textarea{font:inherit;width:100%;max-width:30rem;min-height:44px;padding:.5rem .6rem;border:1px solid var(--soft);border-radius:6px;background:var(--card);color:var(--ink)}
            form>div{margin:.75rem 0}
            button.yes{background:var(--good);border-color:var(--good);color:var(--card);font-weight:650}
            summary{min-height:44px;padding:.6rem 0;cursor:pointer;font-weight:600}
            .problem{border-left:6px solid var(--wait)}
            .answered{border-left:6px solid var(--good)}
            .small{font-size:.85rem;color:var(--soft)}
            @media print{form,details.act{display:none}}
            """;

    /// <summary>For <c>style-src</c>.</summary>
    public static string Source { get; } =
        $"'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(Css)))}'";
}
