using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Goods;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Goods;

/// <summary>A kit is sent or a part goes back: carrier or signature, balance, job closed.</summary>
public partial class GoodsOutPage(GetGoodsOut get, HandOutGoods handOut)
{
    private static readonly Choice<GoodsWay?>.Option[] Ways =
    [
        new(GoodsWay.Sent, "Sent with a carrier"),
        new(GoodsWay.Collected, "Collected here"),
    ];

    private IReadOnlyList<FieldError> errors = [];
    private GoodsOutSheet? sheet;
    private SignaturePad? pad;
    private GoodsWay? way;
    private DateOnly? on;
    private int? parcels;
    private TypedFields? typed;
    private decimal? massKg;
    private string? carrier;
    private string? consignment;
    private string? sentTo;
    private string? note;
    private bool isBusy;

    [Parameter]
    public Guid Id { get; set; }

    private JobId Job => new(Id);

    private string Thing => sheet!.Kind.Thing();

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await get.RunAsync(Job, Actor, Closing);
        if (outcome.TryGet(out var loaded, out var failure))
        {
            // Only the first time: what was typed since stays.
            way ??= loaded.Kind == SaleKind.Shipped ? GoodsWay.Sent : GoodsWay.Collected;
            on ??= loaded.Today;
            parcels ??= 1;
            sentTo ??= string.Join('\n', loaded.Address.Prepend(loaded.CustomerName));
            sheet = loaded;
        }

        return failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.JobId == Id && notice.Subject is "account" or "operation" or "job" or "inspection";

    private async Task FinishAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        isBusy = true;
        var isSent = way == GoodsWay.Sent;
        var input = new GoodsOutInput(
            way,
            on,
            parcels,
            isSent ? carrier : null,
            isSent ? consignment : null,
            massKg,
            isSent ? sentTo : null,
            note,
            isSent || pad is null ? null : await pad.TakeAsync()
        );
        var outcome = await handOut.RunAsync(Job, input, Envelope(version: sheet!.JobVersion), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (Accepted(outcome, out _, $"Recorded: the {Thing} went out."))
        {
            await ReloadAsync();
        }
    }

    private string Balance(long minor)
    {
        var money = new Money(Math.Abs(minor), Currency.Of(sheet!.Currency)).ToString(CultureInfo.CurrentCulture);
        return minor switch
        {
            > 0 => $"the customer owes {money}",
            < 0 => $"the shop owes {money}",
            _ => "✓ everything is paid",
        };
    }

    private static string Day(DateOnly day) => day.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture);

    private static string Kg(decimal mass) => $"{mass.ToString("0.###", CultureInfo.CurrentCulture)} kg";

    private bool Has(string path) => Say(path) is not null;

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;
}
