using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Routing;

/// <summary>The route templates that are shipped, and scopes to build them for.</summary>
internal static class StarterRoutes
{
    public static readonly string[] Codes = ["six-point-weld-in", "four-point-half-bar"];

    public static string Json(string code) => File.ReadAllText(PathOf("routes", code));

    /// <summary>Where a data file of the program is.</summary>
    public static string PathOf(string kind, string code)
    {
        var folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "ShopFloor.sln")))
        {
            folder = Path.GetDirectoryName(folder);
        }

        return Path.Combine(folder!, "src", "ShopFloor.Application", "StarterData", kind, code + ".json");
    }

    public static RouteTemplate Template(string code)
    {
        var read = RouteTemplateJson.Read(Json(code));
        return read.IsSuccess ? read.Value : throw new InvalidOperationException(read.Failure.Sentence);
    }

    public static JobScope Scope(
        string kit = "six-point-weld-in",
        string? left = "swing-out-pin",
        string? right = "swing-out-pin",
        Energy energy = Energy.Petrol,
        params (string Question, string Answer)[] answers
    ) =>
        new(
            kit,
            "street",
            [],
            [
                .. left is null ? Array.Empty<DoorChoice>() : [new DoorChoice(DoorSide.Left, left)],
                .. right is null ? Array.Empty<DoorChoice>() : [new DoorChoice(DoorSide.Right, right)],
            ],
            answers.ToDictionary(a => a.Question, a => a.Answer),
            new CarFacts(Body.Coupe, SteeringSide.Left, energy, Airbags.Front, TankPosition.RearFloor, true)
        );
}
