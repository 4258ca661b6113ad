using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using ShopFloor.Application.Routing;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>Adds, captions, orders and takes out the pictures of an instruction. A picture is stored at once; the draft names it when it is saved.</summary>
public partial class PicturesEditor(AddRoutePicture add)
{
    private int inputKey;
    private bool isBusy;
    private string? problem;

    [Parameter, EditorRequired]
    public List<PictureEdit> Pictures { get; set; } = [];

    /// <summary>The operation's number.</summary>
    [Parameter, EditorRequired]
    public string Operation { get; set; } = "";

    [Parameter]
    public EventCallback OnChanged { get; set; }

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    private async Task AddAsync(InputFileChangeEventArgs chosen)
    {
        problem = null;
        if (chosen.File.Size > ImageLimits.MaxBytes)
        {
            problem = $"{chosen.File.Name} has more than {ImageLimits.MaxBytes / 1024 / 1024} MB. Save it smaller.";
            return;
        }

        isBusy = true;
        var bytes = new byte[chosen.File.Size];
        await using (var stream = chosen.File.OpenReadStream(ImageLimits.MaxBytes, Closing))
        {
            await stream.ReadExactlyAsync(bytes, Closing);
        }

        var outcome = await add.RunAsync(bytes, Envelope(NewKey()), Closing);
        isBusy = false;
        inputKey++;
        problem = outcome.Failure?.Sentence;
        if (outcome.IsSuccess)
        {
            Pictures.Add(new PictureEdit { Id = outcome.Value.Id.Value });
            await OnChanged.InvokeAsync();
        }
    }

    private Task EarlierAsync(int index)
    {
        (Pictures[index - 1], Pictures[index]) = (Pictures[index], Pictures[index - 1]);
        return OnChanged.InvokeAsync();
    }
}
