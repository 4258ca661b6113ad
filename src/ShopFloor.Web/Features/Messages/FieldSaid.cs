using Microsoft.AspNetCore.Components;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Messages;

/// <summary>The sentence about a field, where something is wrong with it.</summary>
internal static class FieldSaid
{
    public static RenderFragment Of(IEnumerable<FieldError> errors, string path) =>
        builder =>
        {
            if (errors.FirstOrDefault(e => e.Path == path) is { } error)
            {
                builder.OpenElement(0, "span");
                builder.AddAttribute(1, "class", "error");
                builder.AddAttribute(2, "role", "alert");
                builder.AddContent(3, error.Text);
                builder.CloseElement();
            }
        };
}
