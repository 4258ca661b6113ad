using ShopFloor.Application.Backups;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Backups;

/// <summary>What stands between the shop and the loss of its data.</summary>
public partial class BackupsPage(ReadBackups read, MakeBackup make, TimeProvider clock)
{
    private BackupStanding? standing;
    private bool isMaking;

    private TimeProvider Clock => clock;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.RunAsync(Actor, Closing);
        standing = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    private async Task MakeAsync()
    {
        if (isMaking)
        {
            return;
        }

        isMaking = true;
        // Whoever leaves the page does not stop it: half a backup is none.
        var outcome = await make.RunAsync(Actor, CancellationToken.None);
        isMaking = false;
        Accepted(outcome, out _, "The backup is made.");
        await LoadAsync();
    }
}
