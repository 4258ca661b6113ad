using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Devices;

namespace ShopFloor.Web.Features.Devices;

/// <summary>A tablet becomes one of the shop's devices by the owner's code.</summary>
public partial class EnrolPage(EnrolDevice enrol, NavigationManager navigation)
{
    private string? problem;

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    [SupplyParameterFromForm]
    public EnrolModel? Input { get; set; }

    public sealed class EnrolModel
    {
        public string? Code { get; set; }
        public string? Name { get; set; }
    }

    protected override void OnInitialized() => Input ??= new EnrolModel();

    private async Task EnrolAsync()
    {
        var outcome = await enrol.RunAsync(
            new EnrolDevice.Request(Input!.Code, Input.Name, Http.Connection.RemoteIpAddress),
            Http.RequestAborted
        );
        if (!outcome.TryGet(out var answer, out var failure))
        {
            problem = failure.Sentence;
            return;
        }

        if (answer.Secret is { } secret)
        {
            DeviceCookie.Write(Http, secret);
            navigation.NavigateTo("/floor/people", forceLoad: true);
            return;
        }

        problem = answer.Problem;
    }
}
