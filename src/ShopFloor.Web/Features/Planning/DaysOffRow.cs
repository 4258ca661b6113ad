using ShopFloor.Domain.Planning;

namespace ShopFloor.Web.Features.Planning;

/// <summary>Days off as they are typed.</summary>
public sealed class DaysOffRow
{
    public DaysOffRow() { }

    public DaysOffRow(DaysOff days)
    {
        ArgumentNullException.ThrowIfNull(days);
        From = days.From;
        To = days.To;
        Note = days.Note ?? "";
    }

    public DateOnly? From { get; set; }
    public DateOnly? To { get; set; }
    public string Note { get; set; } = "";

    /// <summary>A day left open is the other one: a single day off.</summary>
    public DaysOff ToDaysOff()
    {
        var from = From ?? To ?? default;
        return new DaysOff(from, To ?? from, Note);
    }
}
