using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.DropOffs;

/// <summary>The intake record of a job in short.</summary>
public partial class DropOffPanel(GetDropOff get)
{
    private DropOffSheet? sheet;

    [Parameter, EditorRequired]
    public JobId Job { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await get.RunAsync(Job, Actor, Closing);
        sheet = outcome.IsSuccess ? outcome.Value : sheet;
        return outcome.Failure;
    }

    private bool Differs(DropOffView record) =>
        sheet!.Questions.Any(q =>
            record.ConditionFound.TryGetValue(q.QuestionCode, out var found) && found != q.AssumedCode
        );

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "dropOff" && notice.JobId == Job.Value;
}
