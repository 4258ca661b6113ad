using System.Reflection;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Architecture.Tests;

/// <summary>Dependencies point one way: Web → Application → (Data, Documents) → Domain, and Web → Solvers → Domain.</summary>
public sealed class LayerTests
{
    private static readonly Assembly Domain = typeof(Money).Assembly;
    private static readonly Assembly Data = typeof(ShopDbContext).Assembly;
    private static readonly Assembly Application = typeof(IUseCase).Assembly;

    [Fact]
    public void Domain_references_nothing_but_the_runtime()
    {
        var others = Domain
            .GetReferencedAssemblies()
            .Select(a => a.Name!)
            .Where(n => !n.StartsWith("System", StringComparison.Ordinal));
        Assert.Empty(others);
    }

    [Theory]
    [InlineData("ShopFloor.Data", "ShopFloor.Domain")]
    [InlineData("ShopFloor.Documents", "ShopFloor.Domain")]
    [InlineData("ShopFloor.Solvers", "ShopFloor.Domain")]
    [InlineData("ShopFloor.Data.Sqlite", "ShopFloor.Data")]
    [InlineData("ShopFloor.Data.PostgreSql", "ShopFloor.Data")]
    [InlineData("ShopFloor.Application", "ShopFloor.Data", "ShopFloor.Documents", "ShopFloor.Domain")]
    public void A_layer_references_only_what_lies_below_it(string layer, params string[] allowed)
    {
        var references = Assembly
            .Load(layer)
            .GetReferencedAssemblies()
            .Select(a => a.Name!)
            .Where(n => n.StartsWith("ShopFloor", StringComparison.Ordinal));
        Assert.Empty(references.Except(allowed));
    }

    [Fact]
    public void Only_the_solvers_know_the_solver_library()
    {
        static bool KnowsIt(Assembly a) =>
            a.GetReferencedAssemblies().Any(n => n.Name!.StartsWith("Google.", StringComparison.Ordinal));
        Assembly[] others =
        [
            Domain,
            Data,
            Application,
            Assembly.Load("ShopFloor.Documents"),
            Assembly.Load("ShopFloor.Web"),
        ];
        Assert.All(others, a => Assert.False(KnowsIt(a), a.GetName().Name));
    }

    [Fact]
    public void Application_knows_no_http()
    {
        var http = Application
            .GetReferencedAssemblies()
            .Select(a => a.Name!)
            .Where(n =>
                n.StartsWith("Microsoft.AspNetCore.Http", StringComparison.Ordinal)
                || n.StartsWith("Microsoft.AspNetCore.Components", StringComparison.Ordinal)
            );
        Assert.Empty(http);
    }

    [Fact]
    public void Every_stored_entity_has_one_configuration_class_of_its_own()
    {
        var configured = Data.GetTypes()
            .SelectMany(t => t.GetInterfaces())
            .Where(i =>
                i.IsGenericType
                && i.GetGenericTypeDefinition().Name.StartsWith("IEntityTypeConfiguration", StringComparison.Ordinal)
            )
            .Select(i => i.GetGenericArguments()[0])
            .ToList();
        Assert.NotEmpty(configured);
        Assert.Equal(configured.Count, configured.Distinct().Count());
    }

    [Fact]
    public void Ids_are_value_types_that_wrap_a_guid()
    {
        var ids = Domain
            .GetTypes()
            .Where(t =>
                t.GetInterfaces().Any(i => i.IsGenericType && i.GetGenericTypeDefinition() == typeof(IEntityId<>))
            )
            .ToList();
        Assert.True(ids.Count > 10);
        Assert.All(ids, t => Assert.True(t.IsValueType));
    }
}
