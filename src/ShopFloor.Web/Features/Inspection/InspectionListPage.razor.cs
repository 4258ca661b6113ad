using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Inspection;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>Every car with something to look at now.</summary>
public partial class InspectionListPage(ReadInspections read)
{
    private IReadOnlyList<InspectionWorkView> work = [];
    private Failure? failure;

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    protected override async Task OnInitializedAsync()
    {
        var outcome = await read.WaitingAsync(Actors.Of(Http), Http.RequestAborted);
        work = outcome.IsSuccess ? outcome.Value : [];
        failure = outcome.Failure;
    }
}
