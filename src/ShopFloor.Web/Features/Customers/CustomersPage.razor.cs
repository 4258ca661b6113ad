using ShopFloor.Application.Common;
using ShopFloor.Application.Intake;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Customers;

/// <summary>All customers, found by a few letters.</summary>
public partial class CustomersPage(ReadCustomers read)
{
    private string? search;
    private Page<CustomerView>? list;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.ListAsync(search, PageRequest.First, Actor, Closing);
        list = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "customer";

    private async Task SearchAsync(string? text)
    {
        search = text;
        await ReloadAsync();
    }
}
