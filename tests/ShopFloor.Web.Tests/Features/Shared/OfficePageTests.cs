using System.Security.Claims;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Tests.Features.Shared;

/// <summary>What every page of the office does when the person is quicker than the server.</summary>
public sealed class OfficePageTests : BunitContext
{
    private static readonly Guid First = new("0197a1b2-0000-7000-8000-000000000001");
    private static readonly Guid Second = new("0197a1b2-0000-7000-8000-000000000002");

    public OfficePageTests()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddMudServices();
        Services.AddSingleton<IChangeNotices, ChangeHub>();
        var auth = AddAuthorization();
        auth.SetAuthorized("FrontDesk Person");
        auth.SetRoles(nameof(Role.FrontDesk));
        auth.SetClaims(new Claim(ClaimTypes.NameIdentifier, First.ToString()));
    }

    [Fact]
    public void Going_on_before_the_first_thing_is_read_shows_the_second()
    {
        var page = Render<SlowPage>(p => p.Add(x => x.Id, First));

        page.Render(p => p.Add(x => x.Id, Second));
        page.Instance.Answer();
        page.Instance.Answer();

        page.WaitForAssertion(() => Assert.Equal($"{Second} holds {Second}", page.Markup));
    }

    [Fact]
    public void Going_back_to_a_new_one_while_the_saved_one_is_read_forgets_the_saved_one()
    {
        var page = Render<SlowPage>(p => p.Add(x => x.Id, null));
        page.Instance.Answer();
        page.Render(p => p.Add(x => x.Id, First));

        page.Render(p => p.Add(x => x.Id, null));
        page.Instance.Answer();
        page.Instance.Answer();

        page.WaitForAssertion(() => Assert.Equal("new holds new", page.Markup));
    }

    /// <summary>A page that reads only when the test lets it.</summary>
    private sealed class SlowPage : OfficePage
    {
        private readonly SemaphoreSlim answers = new(0);
        private string held = "nothing";

        [Parameter]
        public Guid? Id { get; set; }

        protected override Guid? Subject => Id;

        public void Answer() => answers.Release();

        protected override void Restart() => held = "nothing";

        protected override async Task<Failure?> LoadAsync()
        {
            var asked = Id;
            await answers.WaitAsync(Closing);
            held = asked?.ToString() ?? "new";
            return null;
        }

        protected override void BuildRenderTree(RenderTreeBuilder builder) =>
            builder.AddContent(0, $"{Id?.ToString() ?? "new"} holds {held}");
    }
}
