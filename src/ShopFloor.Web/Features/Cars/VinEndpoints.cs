using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Cars;

public sealed class VinEndpoints : IApiEndpoints
{
    /// <summary>What can be said about a VIN; check fields are null where it is not well-formed.</summary>
    public sealed record Answer(
        bool IsWellFormed,
        string? CheckDigitExpected,
        string? CheckDigitFound,
        bool? CheckDigitMatches,
        IReadOnlyList<int> ModelYearCandidates,
        IReadOnlyList<string> Problems
    );

    public static void Map(RouteGroupBuilder api) =>
        api.MapGet("/calculators/vin/{vin}", Examine)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Form, check digit and model years of a VIN after 49 CFR 565.")
            .Produces<Answer>();

    private static IResult Examine(string vin)
    {
        if (vin.Length > VinReport.LongestText)
        {
            return Failure
                .Field("vin", $"A VIN has 17 characters; texts of more than {VinReport.LongestText} are not looked at.")
                .ToProblem();
        }

        var report = VinReport.For(vin);
        return Results.Ok(
            new Answer(
                report.IsWellFormed,
                report.CheckDigitExpected?.ToString(),
                report.CheckDigitFound?.ToString(),
                report.CheckDigitMatches,
                report.ModelYearCandidates,
                report.Problems
            )
        );
    }
}
