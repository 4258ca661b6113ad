using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>Cars with accepted quotes, brought in and signed for, through the program's own classes. Shared by the tests of the API and those in a browser.</summary>
internal static class CarsInTheShop
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    /// <summary>A job in the shop whose customer has signed; its first operation is ready.</summary>
    public static async Task<JobId> SignedJobAsync(
        this WebApplicationFactory<Program> shop,
        Energy energy = Energy.Petrol
    )
    {
        var job = await shop.JobAsync(energy);
        await shop.SignAsync(job);
        return job;
    }

    public static async Task<JobId> JobAsync(this WebApplicationFactory<Program> shop, Energy energy = Energy.Petrol)
    {
        var quote = await shop.AcceptedQuoteAsync(energy);
        var opened = await shop.UseAsync<OpenJob, Outcome<JobView>>(open =>
            open.RunAsync(new OpenJob.Request(quote.Value), Envelope.Of(Actor.System), Ct)
        );
        Assert.True(opened.IsSuccess, opened.Failure?.Sentence);
        return opened.Value.Id;
    }

    public static async Task<QuoteId> AcceptedQuoteAsync(
        this WebApplicationFactory<Program> shop,
        Energy energy = Energy.Petrol
    )
    {
        var draft = await shop.DraftQuoteAsync(energy);
        var sent = await shop.UseAsync<SendQuote, Outcome<QuoteView>>(send =>
            send.RunAsync(new SendQuote.Request(draft), Envelope.Of(Actor.System), Ct)
        );
        Assert.True(sent.IsSuccess, sent.Failure?.Sentence);
        var accepted = await shop.UseAsync<AcceptQuote, Outcome<QuoteView>>(accept =>
            accept.RunAsync(
                new AcceptQuote.Request(draft, "Ada Kremer", sent.Value.ContentHash),
                Envelope.Of(Actor.System),
                Ct
            )
        );
        Assert.True(accepted.IsSuccess, accepted.Failure?.Sentence);
        return draft;
    }

    public static async Task<QuoteId> DraftQuoteAsync(
        this WebApplicationFactory<Program> shop,
        Energy energy = Energy.Petrol
    )
    {
        var car = await shop.AddCarAsync(energy);
        var request = new QuoteRequest(
            car.CustomerId.Value,
            car.Id.Value,
            "six-point-weld-in",
            Doors: [new DoorRequest("left", "swing-out-pin"), new DoorRequest("right", "swing-out-pin")],
            Condition: new Dictionary<string, string?> { ["floor"] = "thin" }
        );
        var draft = await shop.UseAsync<CreateQuote, Outcome<QuoteView>>(create =>
            create.RunAsync(request, Envelope.Of(Actor.System), Ct)
        );
        Assert.True(draft.IsSuccess, draft.Failure?.Sentence);
        return draft.Value.Id;
    }

    /// <summary>The car is dropped off and the customer signs the authorisation.</summary>
    public static Task SignAsync(this WebApplicationFactory<Program> shop, JobId job) =>
        shop.WriteAsync(db =>
        {
            var details = new DropOffDetails(
                120_000,
                [],
                null,
                40,
                2,
                null,
                new Dictionary<string, string?> { ["floor"] = "thin" },
                null,
                null,
                BatteryState.Good,
                PhotoConsent.Refused
            );
            var dropOff = DropOff.Begin(shop.NewId<DropOffId>(), job, details, shop.Now()).Value;
            var signed = dropOff.Authorise(
                new SignatureDetails(SignatureKind.PrintedSheet, "Ada Kremer"),
                AuthorisationNotice.Current,
                null,
                shop.Now()
            );
            Assert.True(signed.IsSuccess, signed.Failure?.Sentence);
            db.Add(dropOff);
        });

    public static async Task WriteAsync(this WebApplicationFactory<Program> shop, Action<ShopDbContext> change) =>
        await shop.UseAsync<IDbContextFactory<ShopDbContext>, int>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            change(db);
            return await db.SaveChangesAsync(Ct);
        });

    public static TId NewId<TId>(this WebApplicationFactory<Program> shop)
        where TId : struct, IEntityId<TId> => Ids.New<TId>(shop.Now());

    private static async Task<Car> AddCarAsync(this WebApplicationFactory<Program> shop, Energy energy)
    {
        var now = shop.Now();
        var customer = Customer.Register(shop.NewId<CustomerId>(), new CustomerDetails("Ada Kremer"), now).Value;
        var facts = new CarFacts(
            Body.Coupe,
            SteeringSide.Left,
            energy,
            Airbags.Front,
            TankPosition.RearFloor,
            RearSeatsUsed: false
        );
        var car = Car.Register(
            shop.NewId<CarId>(),
            customer.Id,
            new CarDetails("Ferrow", "Lynx", 2005, Facts: facts),
            DateOnly.FromDateTime(now.Date),
            now
        ).Value;
        await shop.WriteAsync(db => db.AddRange(customer, car));
        return car;
    }

    /// <summary>The program's own clock, which a test may have taken over.</summary>
    private static DateTimeOffset Now(this WebApplicationFactory<Program> shop) =>
        shop.Services.GetRequiredService<TimeProvider>().GetUtcNow();

    private static async Task<T> UseAsync<TService, T>(
        this WebApplicationFactory<Program> shop,
        Func<TService, Task<T>> act
    )
        where TService : notnull
    {
        await using var scope = shop.Services.CreateAsyncScope();
        return await act(scope.ServiceProvider.GetRequiredService<TService>());
    }
}
