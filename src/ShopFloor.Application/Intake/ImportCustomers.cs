using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake;

/// <summary>What a file of customers and cars would add.</summary>
/// <param name="Customers">Customers that are new.</param>
/// <param name="Cars">Cars that are new.</param>
/// <param name="Known">What is in the shop already and is left as it is, in words, with its row; at most 50.</param>
/// <param name="KnownCount">How many there are of those in all.</param>
/// <param name="First">The first new customers with their cars, to look whether the columns were meant so; of a preview only, as <paramref name="Known"/>.</param>
public sealed record ImportedCustomers(
    int Customers,
    int Cars,
    IReadOnlyList<string> Known,
    int KnownCount,
    IReadOnlyList<ImportedCustomers.Row> First
)
{
    public sealed record Row(string Name, string? Email, string? Phone, IReadOnlyList<string> Cars);
}

/// <summary>Takes customers and their cars over from another program: all of the file or, where anything in it is wrong, nothing. What is in the shop already is passed over, so a file may be given twice.</summary>
public sealed class ImportCustomers(CommandRunner runner, QueryRunner queries, TimeProvider clock) : IUseCase
{
    public sealed record Request(string? Csv);

    private const int Shown = 10;

    /// <summary>What the file would add; changes nothing.</summary>
    public Task<Outcome<ImportedCustomers>> PreviewAsync(Request request, Actor actor, CancellationToken ct) =>
        queries.RunAsync<ImportedCustomers>(
            Permission.KeepCustomers,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(now);
                return (await PlanAsync(db, request, now, today, ct)).Then<ImportedCustomers>(p => p.View());
            },
            ct
        );

    public Task<Outcome<ImportedCustomers>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<ImportedCustomers>(
            Permission.KeepCustomers,
            envelope,
            request,
            async scope =>
            {
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var planned = await PlanAsync(scope.Db, request, scope.Now, today, scope.Cancellation);
                if (!planned.TryGet(out var plan, out var failure))
                {
                    return failure;
                }

                foreach (var customer in plan.Customers)
                {
                    scope.Db.Add(customer);
                    scope.Record(new EventDraft("customer.registered", "customer", customer.Id.Value));
                }

                foreach (var car in plan.Cars)
                {
                    scope.Db.Add(car);
                    scope.Record(new EventDraft("car.registered", "car", car.Id.Value, After: CarTrace.Of(car)));
                }

                // Counts only: answers are remembered for repeats, and names in them would outlive an erasure.
                return plan.View() with
                {
                    Known = [],
                    First = [],
                };
            },
            ct
        );

    /// <summary>New rows, made and checked as one by one at the counter, and what is known already.</summary>
    private sealed record Plan(List<Customer> Customers, List<Car> Cars, List<string> Known)
    {
        public ImportedCustomers View() =>
            new(
                Customers.Count,
                Cars.Count,
                [.. Known.Take(CustomerSheet.MostProblems)],
                Known.Count,
                [
                    .. Customers
                        .Take(Shown)
                        .Select(c => new ImportedCustomers.Row(
                            c.Name,
                            c.Email,
                            c.Phone,
                            [
                                .. Cars.Where(car => car.CustomerId == c.Id)
                                    .Select(car => $"{car.ModelYear} {car.Make} {car.Model} {car.Registration}".Trim()),
                            ]
                        )),
                ]
            );
    }

    private static async Task<Outcome<Plan>> PlanAsync(
        ShopDbContext db,
        Request request,
        DateTimeOffset now,
        DateOnly today,
        CancellationToken ct
    )
    {
        if (!CustomerSheet.Read(request.Csv ?? "").TryGet(out var sheet, out var failure))
        {
            return failure;
        }

        var customers = await db.Set<Customer>().AsNoTracking().Where(c => c.ErasedAt == null).ToListAsync(ct);
        var cars = await db.Set<Car>().AsNoTracking().ToListAsync(ct);
        var byKey = customers
            .GroupBy(c => CustomerSheet.KeyOf(c.Name, c.Email, c.Phone))
            .ToDictionary(g => g.Key, g => g.First());
        var vins = cars.Where(c => c.ChassisNumber is not null).Select(c => c.ChassisNumber!.Value.Text).ToHashSet();
        var ofOwner = cars.Select(KeyOf).ToHashSet();
        var plan = new Plan([], [], []);
        var errors = new FieldErrors();
        foreach (var row in sheet)
        {
            var key = CustomerSheet.KeyOf(row.Details.Name, row.Details.Email, row.Details.Phone);
            if (byKey.TryGetValue(key, out var owner))
            {
                plan.Known.Add($"Row {row.Row}: {owner.Name} is a customer already.");
            }
            else if (Customer.Register(Ids.New<CustomerId>(now), row.Details, now).TryGet(out owner, out var wrong))
            {
                plan.Customers.Add(owner);
            }
            else
            {
                Tell(errors, row.Row, wrong);
            }

            foreach (var (number, details) in row.Cars)
            {
                var made = Car.Register(Ids.New<CarId>(now), owner?.Id ?? default, details, today, now);
                if (!made.TryGet(out var car, out var refused))
                {
                    Tell(errors, number, refused);
                }
                else if ((car.ChassisNumber is { } vin && !vins.Add(vin.Text)) || !ofOwner.Add(KeyOf(car)))
                {
                    plan.Known.Add($"Row {number}: the {car.ModelYear} {car.Make} {car.Model} is known already.");
                }
                else
                {
                    plan.Cars.Add(car);
                }
            }
        }

        return errors.Any ? Most(errors.ToFailure()) : plan;
    }

    /// <summary>The first of many sentences.</summary>
    private static Failure Most(Failure failure) =>
        failure is Failure.Invalid { Errors.Count: > CustomerSheet.MostProblems } many
            ? new Failure.Invalid([.. many.Errors.Take(CustomerSheet.MostProblems)])
            : failure;

    private static (CustomerId, string, string, int, string) KeyOf(Car car) =>
        (
            car.CustomerId,
            car.Make.ToUpperInvariant(),
            car.Model.ToUpperInvariant(),
            car.ModelYear,
            car.Registration?.ToUpperInvariant() ?? ""
        );

    private static void Tell(FieldErrors errors, int row, Failure failure)
    {
        var told = failure is Failure.Invalid invalid ? invalid.Errors : [new FieldError("", failure.Sentence)];
        foreach (var one in told)
        {
            errors.Add($"row {row}, {one.Path}", $"Row {row}: {one.Text}");
        }
    }
}
