using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Stock;

/// <summary>What a label's code opens: what lies there, and what is done with it.</summary>
public partial class StockLotPage(ReadStock read, KeepLots keep, OpenJobNames openJobs)
{
    private static readonly (Deed Deed, string Text)[] Deeds =
    [
        (Deed.Use, "Take for a job"),
        (Deed.PutBack, "Put back from a job"),
        (Deed.Count, "Count"),
        (Deed.Move, "Put elsewhere"),
        (Deed.Scrap, "Scrap"),
        (Deed.SendBack, "Send back to the supplier"),
    ];

    private StockLotDetail? detail;
    private IReadOnlyList<OpenJobName> jobs = [];
    private TypedFields? typed;
    private Deed deed = Deed.Use;
    private decimal? pieces;
    private string job = "";
    private string? location;
    private string? reason;

    private enum Deed
    {
        Use,
        PutBack,
        Count,
        Move,
        Scrap,
        SendBack,
    }

    [Parameter]
    public Guid Id { get; set; }

    protected override Guid? Subject => Id;

    private int Decimals => detail!.Lot.Measure == StockMeasure.Piece ? 0 : 3;

    protected override async Task<Failure?> ReadAsync()
    {
        if (!(await read.LotAsync(StockLotId.From(Id), Actor, Closing)).TryGet(out var found, out var failure))
        {
            return failure;
        }

        detail = found;
        jobs = (await openJobs.ListAsync(Actor, Closing)).Match(j => j, _ => []);
        return null;
    }

    private string? Say(string path) => Errors.FirstOrDefault(e => e.Path == path)?.Text;

    private void Choose(Deed chosen)
    {
        (deed, job) = (chosen, "");
        Forget();
    }

    private async Task ActAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        var id = StockLotId.From(Id);
        var envelope = Envelope(NewKey(), detail!.Lot.Version);
        var request = new KeepLots.Request(pieces, Guid.TryParse(job, out var of) ? of : null, reason, location);
        var done = await DoAsync(
            () =>
                deed switch
                {
                    Deed.Use => keep.UseAsync(id, request with { Reason = null }, envelope, Closing),
                    Deed.PutBack => keep.PutBackAsync(id, request, envelope, Closing),
                    Deed.Count => keep.CountAsync(id, pieces, reason, envelope, Closing),
                    Deed.Move => keep.MoveAsync(id, request, envelope, Closing),
                    Deed.Scrap => keep.ScrapAsync(id, request, envelope, Closing),
                    _ => keep.SendBackAsync(id, request, envelope, Closing),
                },
            "Written down.",
            lot =>
            {
                if (lot.Id != id)
                {
                    Snackbar.Add(
                        $"What was put elsewhere has a label of its own: {lot.Number}.",
                        MudBlazor.Severity.Info,
                        o => o.RequireInteraction = true
                    );
                }
            }
        );
        if (done)
        {
            (pieces, job, location, reason) = (null, "", null, null);
        }
    }
}
