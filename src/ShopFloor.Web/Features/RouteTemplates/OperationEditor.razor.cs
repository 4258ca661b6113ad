using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>The form of one operation of a route's draft.</summary>
public partial class OperationEditor
{
    private static readonly string[] Places = ["bay", "bench", "paint", "office"];

    private static readonly (GateKind Kind, string Title)[] Kinds =
    [
        (GateKind.Authorisation, "Authorisation signed"),
        (GateKind.CustomerPart, "Customer part arrived"),
        (GateKind.Stock, "Stock reserved or received"),
        (GateKind.SentOut, "Work sent out returned"),
        (GateKind.Cure, "Cure time elapsed"),
        (GateKind.HoldPoint, "Hold point passed"),
        (GateKind.QualifiedPerson, "Qualified person present"),
        (GateKind.SecondPerson, "Second person present"),
        (GateKind.Isolation, "High voltage isolated"),
    ];

    [Parameter, EditorRequired]
    public OperationEdit Operation { get; set; } = default!;

    [Parameter, EditorRequired]
    public RouteEdit Route { get; set; } = default!;

    [Parameter, EditorRequired]
    public RouteDraftView View { get; set; } = default!;

    [Parameter]
    public EventCallback OnChanged { get; set; }

    [Parameter]
    public EventCallback<OperationEdit> OnRemove { get; set; }

    /// <summary>By one place up (−1) or down (1).</summary>
    [Parameter]
    public EventCallback<(OperationEdit Operation, int By)> OnMove { get; set; }

    private Task Changed() => OnChanged.InvokeAsync();

    private Task Set(HashSet<string> set, string code, ChangeEventArgs changed)
    {
        if ((bool)changed.Value!)
        {
            set.Add(code);
        }
        else
        {
            set.Remove(code);
        }

        return Changed();
    }
}
