using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Parts;

/// <summary>A part as sent.</summary>
public sealed record CustomerPartInput(
    string? What = null,
    string? Code = null,
    DateOnly? DueOn = null,
    string? Note = null
)
{
    internal CustomerPartDetails Details => new(What, Code, DueOn, Note);
}

/// <summary>A part as shown.</summary>
/// <param name="IsLate">Awaited, and its day has passed in the shop's zone.</param>
public sealed record CustomerPartView(
    CustomerPartId Id,
    long Version,
    JobId JobId,
    string What,
    string? Code,
    DateOnly DueOn,
    string? Note,
    CustomerPartState State,
    DateTimeOffset? ArrivedAt,
    bool IsLate
)
{
    public static CustomerPartView Of(CustomerPart part, DateOnly today) =>
        new(
            part.Id,
            part.Version,
            part.JobId,
            part.What,
            part.Code,
            part.DueOn,
            part.Note,
            part.State,
            part.ArrivedAt,
            part.IsLate(today)
        );
}

/// <summary>What the history keeps of a part: no free text.</summary>
internal sealed record PartTrace(string? Code, DateOnly DueOn, CustomerPartState State)
{
    public static PartTrace Of(CustomerPart part) => new(part.Code, part.DueOn, part.State);
}
