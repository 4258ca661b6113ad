using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Stock;

/// <summary>One saw card: bar by bar, and what is done when it is sawn.</summary>
public partial class SawCardPage(SawPlans plans)
{
    private readonly Dictionary<int, decimal?> remnants = [];
    private SawPlanView? card;
    private TypedFields? typed;
    private string? place;
    private string? reason;
    private bool isSure;

    [Parameter]
    public Guid Id { get; set; }

    protected override Guid? Subject => Id;

    public static string Word(SawPlanState state) =>
        state switch
        {
            SawPlanState.Planned => "to be sawn",
            SawPlanState.Sawn => "sawn",
            _ => "discarded",
        };

    protected override void Restart()
    {
        remnants.Clear();
        isSure = false;
    }

    protected override async Task<Failure?> ReadAsync()
    {
        var notes = card?.Notes ?? [];
        if (!(await plans.ReadAsync(SawPlanId.From(Id), Actor, Closing)).TryGet(out var found, out var failure))
        {
            return failure;
        }

        // What sawing could not write down is told once; it stays on the page that told it.
        card = found with
        {
            Notes = card?.Id == found.Id ? notes : [],
        };
        return null;
    }

    /// <summary>Where the pieces lie in the bar, in mm from its first end.</summary>
    private IEnumerable<(decimal From, decimal To, int Index)> Places(SawnBar bar)
    {
        var at = card!.EndTrimMm;
        for (var i = 0; i < bar.Pieces.Count; i++)
        {
            yield return (at, at + bar.Pieces[i].LengthMm, i);
            at += bar.Pieces[i].LengthMm + card.KerfMm;
        }
    }

    private static string X(decimal mm, SawnBar bar) =>
        (1000 * mm / bar.StockMm).ToString("0.##", CultureInfo.InvariantCulture);

    private string Picture(SawnBar bar) =>
        $"Bar of {Said.Length(bar.StockMm)}: {string.Join(", ", bar.Pieces.Select(p => Said.Length(p.LengthMm)))}, then what is left.";

    private string? SayRemnant(int bar)
    {
        var index = Measured().FindIndex(r => r.Bar == bar);
        return index < 0
            ? null
            : Errors.FirstOrDefault(e => e.Path.StartsWith($"remnants[{index}]", StringComparison.Ordinal))?.Text;
    }

    private List<MeasuredRemnant> Measured() =>
        [
            .. remnants
                .Where(r => r.Value is not null)
                .OrderBy(r => r.Key)
                .Select(r => new MeasuredRemnant(r.Key, r.Value)),
        ];

    private async Task SawAsync()
    {
        isSure = false;
        if (typed!.Refuse())
        {
            return;
        }

        var request = new SawPlans.SawnRequest(Measured(), place);
        var envelope = Envelope(NewKey(), card!.Version);
        await DoAsync(
            () => plans.SawAsync(SawPlanId.From(Id), request, envelope, Closing),
            "Sawn: the store and the jobs know it.",
            sawn => card = sawn
        );
    }

    private Task<bool> DiscardAsync() =>
        DoAsync(
            () => plans.DiscardAsync(SawPlanId.From(Id), reason, Envelope(NewKey(), card!.Version), Closing),
            "Discarded. Its bars are free again."
        );
}
