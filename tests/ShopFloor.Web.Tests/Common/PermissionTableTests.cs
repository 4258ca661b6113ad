using System.Text;
using System.Xml.Linq;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Common;

/// <summary>The table of who may do what, as readers find it, is written from the code. <c>SHOPFLOOR_WRITE_DOCS=yes</c> writes it anew.</summary>
public sealed class PermissionTableTests
{
    private static readonly string Path = System.IO.Path.Combine(Repository.Root, "docs", "permissions.md");

    [Fact]
    public void Page_of_permissions_is_what_the_code_says()
    {
        var rendered = Render();
        if (Environment.GetEnvironmentVariable("SHOPFLOOR_WRITE_DOCS") == "yes")
        {
            File.WriteAllText(Path, rendered);
        }

        Assert.Equal(rendered, File.ReadAllText(Path).ReplaceLineEndings("\n"));
    }

    [Fact]
    public void Owner_may_everything_and_nobody_gets_by_pin_what_their_role_has_not()
    {
        Assert.Equal(Enum.GetValues<Permission>().Order(), Permissions.ByRole[Role.Owner].Order());
        foreach (var role in Enum.GetValues<Role>())
        {
            var actor = Actor.OfPerson(new PersonId(Guid.CreateVersion7()), [role]) with { IsByPin = true };
            Assert.All(
                Enum.GetValues<Permission>(),
                p => Assert.Equal(Permissions.ByPin.Contains(p) && Permissions.ByRole[role].Contains(p), actor.May(p))
            );
        }

        Assert.DoesNotContain(Permission.SeeMoney, Permissions.ByPin);
        Assert.DoesNotContain(Permission.RunShop, Permissions.ByPin);
        Assert.DoesNotContain(Permission.KeepOwnSignIn, Permissions.ByPin);
    }

    private static string Render()
    {
        var words = XDocument
            .Load(System.IO.Path.ChangeExtension(typeof(Permission).Assembly.Location, ".xml"))
            .Descendants("member")
            .ToDictionary(m => m.Attribute("name")!.Value, m => m.Element("summary")?.Value.Trim() ?? "");
        var page = new StringBuilder(
            """
            # Who may do what

            Written from `Permissions` in the code (`SHOPFLOOR_WRITE_DOCS=yes`, test `PermissionTableTests`); every page, endpoint and use case names one of these, and what names none is refused.
            A person may hold several roles. By PIN, at one of the shop's tablets, nobody may more than the last column, whatever their role.

            | | Owner | Front desk | Fabricator | Inspector | By PIN |
            |---|---|---|---|---|---|

            """.ReplaceLineEndings("\n")
        );
        foreach (var permission in Enum.GetValues<Permission>())
        {
            var said = words[$"F:{typeof(Permission).FullName}.{permission}"];
            page.Append(
                System.Globalization.CultureInfo.InvariantCulture,
                $"| **{permission}**. {said} | {Of(Role.Owner)} | {Of(Role.FrontDesk)} | {Of(Role.Fabricator)} | {Of(Role.Inspector)} | {Sign(Permissions.ByPin.Contains(permission))} |\n"
            );
            string Of(Role role) => Sign(Permissions.ByRole[role].Contains(permission));
        }

        return page.ToString();
    }

    private static string Sign(bool may) => may ? "✓" : "–";
}
