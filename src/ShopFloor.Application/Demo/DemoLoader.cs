using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Application.People;
using ShopFloor.Application.Planning;
using ShopFloor.Application.Setup;
using ShopFloor.Data;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Application.Demo;

/// <summary>Fills an empty database with the demo shop of <c>demo-seed</c>: by the same use cases as the screens, with a clock that walks through eight weeks.</summary>
public sealed class DemoLoader(
    ShopDatabase database,
    SetUpShop setUp,
    IPasswordHasher<User> hasher,
    IDataProtectionProvider protection,
    IConfiguration configuration,
    TimeProvider clock,
    Domain.Nesting.INestSolver nesting
) : IDemoData, IUseCase
{
    /// <summary>Names the password of all demo people; a random one where it is not set.</summary>
    public const string PasswordSetting = "SHOPFLOOR_DEMO_PASSWORD";

    private const int StartDay = -41;

    public async Task<IReadOnlyList<string>> LoadAsync(CancellationToken ct)
    {
        if (await setUp.StageAsync(ct) != SetupStage.Empty)
        {
            return ["The database is not empty: the demo shop is loaded into an empty one only. Nothing was changed."];
        }

        // The first use makes the ring of keys in the database, which must not happen while a command holds SQLite's one writer.
        protection.CreateProtector(nameof(DemoLoader)).Protect(nameof(DemoLoader));
        var story = DemoStory.Read();
        var now = clock.GetUtcNow();
        var calendar = new DemoCalendar(TimeZoneInfo.FindSystemTimeZoneById(story.Shop.TimeZone), now);
        var demoClock = new DemoClock(calendar.At(StartDay, 8));
        await using var services = Services(demoClock);
        var world = new DemoWorld(services, demoClock, calendar, now);
        var password = configuration[PasswordSetting] ?? RandomPassword();
        await OpenShopAsync(world, story, password);
        await LoadBooksAsync(world, story);
        await PlayAsync(world, story, demoClock);
        return
        [
            $"The demo shop {story.Shop.Name} is loaded. Everybody's password: {password}",
            .. story.People.Select(p => $"  {p.Email}  ({p.Name}: {string.Join(", ", p.Roles)})"),
        ];
    }

    /// <summary>The program's own services, but for the clock. Nobody listens to change notices yet, so they stay inside.</summary>
    private ServiceProvider Services(DemoClock demoClock)
    {
        var services = new ServiceCollection();
        services.AddLogging();
        services.AddSingleton<TimeProvider>(demoClock);
        services.AddSingleton(hasher);
        services.AddSingleton(protection);
        services.AddSingleton(configuration);
        services.AddSingleton(nesting);
        services.AddShopFloor(database);
        return services.BuildServiceProvider();
    }

    private static async Task OpenShopAsync(DemoWorld world, DemoStory story, string password)
    {
        var shop = story.Shop;
        var owner = story.People[0];
        var details = new Shop.Details(
            shop.Name,
            shop.LegalName,
            shop.Address,
            shop.TaxRegistration,
            shop.Phone,
            shop.Email,
            shop.OpeningHours,
            shop.TimeZone,
            shop.LengthUnit,
            null,
            false
        );
        await DemoWorld.DoAsync(
            world
                .Use<SetUpShop>()
                .RunAsync(new(details, shop.Currency, true, owner.Name, owner.Email, password), CancellationToken.None),
            "set-up"
        );
        foreach (var person in story.People)
        {
            var roles = person.Roles.Select(r => CreateApiKey.RoleNames[r]).ToList();
            var id =
                person == owner
                    ? await world.Use<DemoOwner>().FindAsync(owner.Email)
                    : await DemoWorld.DoAsync(
                        world
                            .Use<AddPerson>()
                            .RunAsync(
                                new(person.Name, person.Email, password, roles),
                                Envelope.Of(Actor.System),
                                CancellationToken.None
                            ),
                        person.Name
                    );
            world.People[person.Key] = Actor.OfPerson(id, roles, "demo");
        }

        await DemoWorld.DoAsync(
            world
                .Use<KeepShopHours>()
                .ChangeAsync(
                    new ShopHours.Details(WeekHours.Usual.Texts, [], null, null, shop.Stands, shop.CarsAtOnce),
                    new Envelope(world.People[owner.Key]),
                    CancellationToken.None
                ),
            "hours"
        );
    }

    private static async Task LoadBooksAsync(DemoWorld world, DemoStory story)
    {
        foreach (var c in story.Customers)
        {
            var details = new CustomerDetails(
                c.Name,
                c.AddressLines,
                c.Email,
                c.Phone,
                c.TaxNumber,
                null,
                c.Language,
                c.Payer
            );
            world.Customers[c.Key] = (
                await DemoWorld.DoAsync(
                    world.Use<RegisterCustomer>().RunAsync(details, world.By("ines"), CancellationToken.None),
                    c.Key
                )
            ).Id;
        }

        foreach (var c in story.Cars)
        {
            world.Owners[c.Key] = world.Customers[c.Customer];
            var car = new CarInput(
                world.Customers[c.Customer],
                c.Make,
                c.Model,
                c.ModelYear,
                c.Vin,
                c.Registration,
                c.OdometerKm,
                null,
                CarFactsInput.Of(c.Facts)
            );
            world.Cars[c.Key] = (
                await DemoWorld.DoAsync(
                    world.Use<RegisterCar>().RunAsync(car, world.By("ines"), CancellationToken.None),
                    c.Key
                )
            ).Id;
        }
    }

    private static async Task PlayAsync(DemoWorld world, DemoStory story, DemoClock demoClock)
    {
        var jobs = story.Jobs.Select((data, index) => new DemoJob(data, index + 1)).ToList();
        var agenda = new DemoAgenda(demoClock, world.End);
        var photos = new DemoPhotos(world);
        var office = new DemoOffice(world, photos, jobs);
        var materials = new DemoMaterials(world, story.Materials);
        await materials.KeepRegistersAsync();
        var inspector = new DemoInspector(world, photos, office, materials);
        var fireWatch = new DemoFireWatch(world, agenda);
        var parts = new DemoRemovedParts(world);
        agenda.Add(new DemoPriceBook(world).FollowAsync(story.PriceBook));
        foreach (var job in jobs)
        {
            agenda.Add(office.FollowAsync(job));
        }

        var bench = new DemoBench(world, jobs);
        agenda.Add(bench.KeepDiesAsync(story.Workbench));
        agenda.Add(bench.SaveFiguresAsync(story.Workbench));
        var diary = new DemoDiary(world, jobs);
        agenda.Add(diary.AgreeAsync(story.Diary));
        agenda.Add(diary.RememberAsync(story.Diary));
        var stock = new DemoStock(world, jobs, story.Stock);
        agenda.Add(stock.OpenAsync());
        agenda.Add(stock.BuyAsync());
        agenda.Add(stock.SetAsideAsync());
        agenda.Add(stock.UseAsync());
        agenda.Add(stock.SawAsync());
        var money = new DemoMoney(world, jobs);
        agenda.Add(money.BookCostsAsync(story.Money));
        agenda.Add(money.BillPartsAsync(story.Money));
        agenda.Add(money.CloseDaysAsync(story.Money.Closing));
        foreach (var fabricator in jobs.Select(j => j.Data.Work?.Fabricator).OfType<string>().Distinct())
        {
            agenda.Add(new DemoFabricator(world, inspector, fireWatch, parts, materials, fabricator, jobs).WorkAsync());
        }

        foreach (var job in jobs.Where(j => j.Data.Work?.Now is not null))
        {
            agenda.Add(DemoFabricator.StandNowAsync(world, fireWatch, job));
        }

        await agenda.RunAsync();
    }

    /// <summary>Fourteen letters and digits that cannot be mistaken for each other, about 70 bits.</summary>
    private static string RandomPassword() => RandomNumberGenerator.GetString("abcdefghjkmnpqrstuvwxyz23456789", 14);
}
