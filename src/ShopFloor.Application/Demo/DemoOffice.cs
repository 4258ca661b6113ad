using ShopFloor.Application.Accounts;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Application.Intake.Goods;
using ShopFloor.Application.Intake.HandOvers;
using ShopFloor.Application.Intake.Parts;
using ShopFloor.Application.Progress;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Demo;

/// <summary>What the front desk does for one car, from the quote to the hand-over.</summary>
internal sealed class DemoOffice(DemoWorld world, DemoPhotos photos, IReadOnlyList<DemoJob> jobs)
{
    private const string Desk = "ines";

    // A scrawl; the same for everybody.
    private static readonly IReadOnlyList<IReadOnlyList<int>> Scrawl =
    [
        [80, 700, 160, 300, 240, 720, 330, 420, 420, 650],
        [470, 620, 600, 380, 700, 640, 860, 560, 930, 600],
    ];

    public async IAsyncEnumerable<DateTimeOffset> FollowAsync(DemoJob job)
    {
        var data = job.Data;
        yield return world.Calendar.At(data.Quote.Day, 10, job.Number * 3);
        await SendQuoteAsync(
            job,
            data.Quote.Revisions > 1
                ? Request(job) with
                {
                    DiscountPercent = null,
                    TradeCreditMinor = null,
                    TradeCreditNote = null,
                }
                : Request(job)
        );
        if (data.Quote.Revisions > 1)
        {
            yield return world.Calendar.At(data.Quote.Day + 1, 14);
            await ReviseAsync(job);
        }

        if (data.Quote.Answer is not { } answer)
        {
            yield break;
        }

        yield return world.Calendar.At(data.Quote.AnswerDay, 11, job.Number);
        if (answer == "declined")
        {
            await DoAsync(
                job,
                world
                    .Use<DeclineQuote>()
                    .RunAsync(new(job.Quote!.Id, "Too much work for the car's worth.", "price"), By, default)
            );
            yield break;
        }

        await DoAsync(
            job,
            world
                .Use<AcceptQuote>()
                .RunAsync(new(job.Quote!.Id, data.Quote.AnswerBy, job.Quote.ContentHash), By, default)
        );
        yield return world.Calendar.At(data.Deposit?.Day ?? data.Quote.AnswerDay, 12, job.Number);
        await OpenJobAsync(job);
        if (data.DropOff is { } dropOff)
        {
            yield return world.Calendar.At(dropOff.Day, 8, 15 + (job.Number * 2));
            await BookInAsync(job);
        }
        else
        {
            job.MayBegin = true;
        }

        foreach (var part in data.Parts ?? [])
        {
            if (part.ArrivesDay is not { } arrives)
            {
                continue;
            }

            yield return world.Calendar.At(arrives, 9, job.Number);
            var known = await DoAsync(job, world.Use<ListCustomerParts>().RunAsync(job.Id!.Value, By.Actor, default));
            await DoAsync(
                job,
                world.Use<ReceiveCustomerPart>().RunAsync(known.Single(p => p.Code == part.Code).Id, By, default)
            );
        }

        if (data.PaysOnDay is { } paysOn)
        {
            yield return world.Calendar.At(paysOn, 14, job.Number);
            await SettleAsync(job);
        }

        if ((data.HandOver?.Day ?? data.GoodsOut?.Day) is not { } day)
        {
            yield break;
        }

        // The day is a wish: where the work took longer, the customer comes later.
        yield return world.Calendar.At(day, 15, job.Number);
        while (!job.IsSignedOff)
        {
            yield return world.Calendar.At(++day, 15, job.Number);
        }

        if (data.HandOver is { } handOver)
        {
            await HandOverAsync(job, handOver);
        }
        else
        {
            await SendGoodsAsync(job, data.GoodsOut!);
        }
    }

    private Common.Envelope By => world.By(Desk);

    private QuoteRequest Request(DemoJob job)
    {
        var data = job.Data;
        return new(
            (data.Car is { } owned ? world.Owners[owned] : world.Customers[data.Customer!]).Value,
            data.Car is { } car ? world.Cars[car].Value : null,
            data.Kit,
            data.Use,
            [.. data.RuleSets],
            [.. data.Doors.Select(d => new DoorRequest(d.Key, d.Value))],
            data.Assumed.ToDictionary(a => a.Key, a => (string?)a.Value),
            data.Quote.DiscountPercent,
            null,
            data.Quote.TradeCreditMinor,
            data.Quote.Note
        )
        {
            Kind = QuoteExtrasReader.Word(data.Kind),
            Bench = data.Bench?.Select(b => new BenchRequest(b.Skill, b.StandardCode, b.Quantity)).ToList(),
            FreightZoneCode = data.FreightZone,
            ReturnOfJobId = jobs.FirstOrDefault(j => j.Data.Key == data.ReturnOf)?.Id?.Value,
            FreeReason = data.FreeReason,
        };
    }

    private async Task SendQuoteAsync(DemoJob job, QuoteRequest request)
    {
        var draft = await DoAsync(job, world.Use<CreateQuote>().RunAsync(request, By, default));
        job.Quote = await DoAsync(job, world.Use<SendQuote>().RunAsync(new(draft.Id), By, default));
    }

    private async Task ReviseAsync(DemoJob job)
    {
        var draft = await DoAsync(job, world.Use<ReviseQuote>().RunAsync(new(job.Quote!.Id), By, default));
        await DoAsync(job, world.Use<EditQuote>().RunAsync(new(draft.Id, Request(job)), By, default));
        job.Quote = await DoAsync(job, world.Use<SendQuote>().RunAsync(new(draft.Id), By, default));
    }

    private async Task OpenJobAsync(DemoJob job)
    {
        var data = job.Data;
        var opened = await DoAsync(job, world.Use<OpenJob>().RunAsync(new(job.Quote!.Id.Value), By, default));
        job.Id = opened.Id;
        if (data.Deposit is { } asked)
        {
            // Deposits are asked for in whole pounds.
            var deposit = job.Quote.Priced.TotalMinor * asked.Percent / 100 / 100 * 100;
            await DoAsync(job, world.Use<TakeDeposit>().RunAsync(new(opened.Id, deposit, asked.Method), By, default));
        }

        foreach (var part in data.Parts ?? [])
        {
            var input = new CustomerPartInput(part.What, part.Code, world.Calendar.Day(part.DueDay));
            await DoAsync(job, world.Use<PromiseCustomerPart>().RunAsync(opened.Id, input, By, default));
        }

        if (data.ProgressLink)
        {
            await DoAsync(job, world.Use<CreateProgressLink>().RunAsync(opened.Id, new(), By, default));
        }
    }

    private async Task BookInAsync(DemoJob job)
    {
        var (data, dropOff, id) = (job.Data, job.Data.DropOff!, job.Id!.Value);
        var input = new DropOffInput(
            OdometerKm: dropOff.OdometerKm,
            WarningLights: [],
            FuelPercent: dropOff.FuelPercent,
            Keys: dropOff.Keys,
            ConditionFound: data.Found!.ToDictionary(a => a.Key, a => (string?)a.Value),
            StaysFitted: [.. dropOff.StaysFitted],
            InTheCar: [.. dropOff.InTheCar],
            Battery: BatteryState.Good,
            PhotoConsent: dropOff.PhotoConsent
        );
        await DoAsync(job, world.Use<RecordDropOff>().RunAsync(id, input, By, default));
        await photos.WalkRoundAsync(job, By);
        if (!dropOff.Authorise)
        {
            await OfferDifferenceAsync(job, input);
            return;
        }

        var signature = new SignatureDetails(SignatureKind.OnScreen, data.Quote.AnswerBy, Scrawl);
        await DoAsync(job, world.Use<AuthoriseWork>().RunAsync(id, new(signature), By, default));
        if ((await world.LookAsync(job)).NeedsIsolation)
        {
            await DoAsync(
                job,
                world
                    .Use<RecordIsolation>()
                    .RunAsync(id, new("Nadia Voltmer, high-voltage electrician", "HV protocol 0117"), By, default)
            );
        }

        job.MayBegin = true;
    }

    /// <summary>The car was found otherwise: the customer is asked before anything comes out.</summary>
    private async Task OfferDifferenceAsync(DemoJob job, DropOffInput input)
    {
        var id = job.Id!.Value;
        var difference = await DoAsync(
            job,
            world.Use<CompareCondition>().RunAsync(id, new(input.ConditionFound), By.Actor, default)
        );
        if (!difference.IsNone)
        {
            var draft = await DoAsync(job, world.Use<DraftChangeFromDropOff>().RunAsync(id, By, default));
            await DoAsync(job, world.Use<OfferChange>().RunAsync(draft.Id, By, default));
        }
    }

    private async Task HandOverAsync(DemoJob job, DemoHandOverData handOver)
    {
        var id = job.Id!.Value;
        var sheet = await DoAsync(job, world.Use<GetHandOver>().RunAsync(id, By.Actor, default));
        var input = new HandOverInput(
            handOver.OdometerKm,
            [],
            job.Data.DropOff!.Keys,
            [.. sheet.Photos.Select(p => new LookInput(p.Id, null, true))],
            null,
            new SignatureDetails(SignatureKind.OnScreen, job.Data.Quote.AnswerBy, Scrawl)
        );
        await DoAsync(job, world.Use<HandOverCar>().RunAsync(id, input, By, default));
    }

    private async Task SendGoodsAsync(DemoJob job, DemoGoodsOutData goods)
    {
        var id = job.Id!.Value;
        var sheet = await DoAsync(job, world.Use<GetGoodsOut>().RunAsync(id, By.Actor, default));
        var input = new GoodsOutInput(
            GoodsWay.Sent,
            sheet.Today,
            goods.Parcels,
            goods.Carrier,
            goods.ConsignmentNumber,
            goods.MassKg,
            string.Join('\n', sheet.Address.Prepend(sheet.CustomerName))
        );
        await DoAsync(job, world.Use<HandOutGoods>().RunAsync(id, input, By, default));
    }

    /// <summary>The invoice is written and paid before the sign-off, which asks for a settled account. A visit that costs nothing has no invoice.</summary>
    public async Task SettleAsync(DemoJob job)
    {
        var id = job.Id!.Value;
        if (job.Quote!.Priced.TotalMinor == 0)
        {
            return;
        }

        await DoAsync(job, world.Use<IssueInvoice>().RunAsync(new(id), By, default));
        var account = await DoAsync(job, world.Use<GetAccount>().RunAsync(id, By.Actor, default));
        if (account.BalanceMinor <= 0)
        {
            return;
        }

        var method = job.Data.HandOver?.Method ?? job.Data.GoodsOut?.Method ?? job.Data.Deposit!.Method;
        await DoAsync(job, world.Use<TakePayment>().RunAsync(new(id, account.BalanceMinor, method), By, default));
    }

    private static Task<T> DoAsync<T>(DemoJob job, Task<Outcome<T>> task) => DemoWorld.DoAsync(task, job.Data.Key);
}
