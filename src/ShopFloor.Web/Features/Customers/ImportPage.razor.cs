using Microsoft.AspNetCore.Components.Forms;
using ShopFloor.Application.Intake;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Web.Features.Customers;

/// <summary>Customers and cars out of another program, through a preview.</summary>
public partial class ImportPage(ImportCustomers import)
{
    /// <summary>A character of UTF-8 has up to four bytes; those of names are mostly one.</summary>
    private const int LargestBytes = CustomerSheet.Largest;

    private const string Sample = """
        name,email,phone,address,make,model,modelYear,registration
        Ada Example,ada@example.com,+44 1632 960001,"1 Example Lane
        Exampleton",Marlow,Quillon,2006,DEMO 1
        """;

    private bool isBusy;
    private int inputKey;
    private ImportCustomers.Request? file;
    private ImportedCustomers? preview;
    private ImportedCustomers? done;
    private IReadOnlyList<FieldError> problems = [];

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    private void Forget()
    {
        (file, preview, problems, done) = (null, null, [], null);
        inputKey++;
    }

    private async Task PreviewAsync(InputFileChangeEventArgs chosen)
    {
        (file, preview, problems, done) = (null, null, [], null);
        if (chosen.File.Size > LargestBytes)
        {
            problems = [new("", $"The file has {chosen.File.Size} bytes; at most {LargestBytes} are read.")];
            return;
        }

        isBusy = true;
        using var reader = new StreamReader(chosen.File.OpenReadStream(LargestBytes, Closing));
        file = new ImportCustomers.Request(await reader.ReadToEndAsync(Closing));
        var outcome = await import.PreviewAsync(file, Actor, Closing);
        isBusy = false;
        if (!outcome.TryGet(out preview, out var failure))
        {
            problems = ProblemsOf(failure);
        }
    }

    private async Task ImportAsync()
    {
        isBusy = true;
        var outcome = await import.RunAsync(file!, Envelope(NewKey()), Closing);
        isBusy = false;
        if (outcome.TryGet(out var taken, out var failure))
        {
            Forget();
            done = taken;
        }
        else
        {
            problems = ProblemsOf(failure);
        }
    }

    private static string Said(ImportedCustomers what) =>
        (what.Customers, what.Cars) switch
        {
            (0, 0) => "nothing",
            var (customers, cars) =>
                $"{customers} {(customers == 1 ? "customer" : "customers")}, {cars} {(cars == 1 ? "car" : "cars")}",
        };

    private static IReadOnlyList<FieldError> ProblemsOf(Failure failure) =>
        failure is Failure.Invalid invalid ? invalid.Errors : [new("", failure.Sentence)];
}
