namespace ShopFloor.Domain.Common;

/// <summary>A short warning.</summary>
/// <param name="Code">Stable, camelCase.</param>
/// <param name="Text">What can hurt, and what to do.</param>
public sealed record Caution(string Code, string Text);

/// <summary>The cautions of screens and papers, worded once. Common practice, no source; they point to the rules and persons that decide and replace none of them.</summary>
public static class Cautions
{
    /// <summary>Who decides; stands under every list of cautions.</summary>
    public const string WhoDecides =
        "These cautions are reminders, not instructions. The sanctioning body's current rule book, the local code and a licensed or "
        + "qualified person decide. This record does not certify the car.";

    public static readonly Caution HotWork = new(
        "hotWork",
        "Grinding, cutting and tacking are hot work too. Foam, bitumen, wax and carpet glow on the far side of a panel: clear or shield them, "
            + "have an extinguisher at hand and keep a fire watch after the last spark."
    );

    public static readonly Caution Fuel = new(
        "fuel",
        "Fuel vapour ignites: tank out and lines capped before hot work. A tank that stays in needs a qualified person's recorded "
            + "assessment and a watcher below the car. Never heat a vessel that held fuel."
    );

    public static readonly Caution Fumes = new(
        "fumes",
        "Zinc, primer and coating fumes harm: take the coating off first, extract and wear breathing protection. Keep chlorinated cleaner away "
            + "from the arc. Shielding gas displaces air in a closed cabin."
    );

    public static readonly Caution Electrical = new(
        "electrical",
        "Battery off before welding; airbags, curtains and pretensioners made safe as their maker says; work clamp beside the weld."
    );

    public static readonly Caution HighVoltage = new(
        "highVoltage",
        "High-voltage car: a qualified person isolates it before anything else is touched."
    );

    public static readonly Caution Support = new(
        "support",
        "Car on stands on firm ground before anybody works below it."
    );

    public static readonly Caution TwoPack = new(
        "twoPack",
        "Two-pack paint needs supplied air and never an open hot-work permit or fire watch nearby."
    );

    public static readonly Caution BareTube = new(
        "bareTube",
        "A bare tube near a head can injure or kill, with and without a helmet: pad what a head can reach, and check the rear seats too."
    );

    public static readonly Caution Belts = new(
        "belts",
        "Harness straps work only at the angles their maker and the rule book give; standard belts must still run and lock as made."
    );

    /// <summary>Everything that can hurt during the work, in the order of the work.</summary>
    public static IReadOnlyList<Caution> Work { get; } =
    [HighVoltage, Electrical, Fuel, HotWork, Fumes, Support, TwoPack];

    /// <summary>What an unfinished car can do to those who take it back; told in writing and signed.</summary>
    public static IReadOnlyList<Caution> Unfinished { get; } =
    [
        new(
            "notInspected",
            "The work on this car was stopped. What is in it was not inspected as a finished bar and protects nobody; this program certifies nothing."
        ),
        new(
            "notRoadFit",
            "The car may not be fit for road use: metal may be cut or left open, and seats, belts, airbags, battery or brake and fuel lines may be "
                + "loose, out or made safe. Have it carried, not driven, until a qualified person has looked at it; the rule book, local code and "
                + "that person decide."
        ),
        new("openMetal", "Cut edges are sharp and bare metal rusts within days: cover them before anybody reaches in."),
        BareTube,
    ];

    /// <summary>What changes when a car with a roll bar is driven on the road; told to the customer in writing and signed.</summary>
    public static IReadOnlyList<Caution> RoadUse { get; } =
    [
        new(
            "insurance",
            "Tell your insurer before you drive: a welded-in bar is a change to the car and may end or alter your cover."
        ),
        new(
            "roadApproval",
            "Cutting and welding the body may need a new inspection or approval before the car may be used on the road. Local law decides."
        ),
        new(
            "airbags",
            "Airbags, curtains and pretensioners may work differently or not at all with a bar in the cabin; where they were taken out or "
                + "made safe, the car no longer protects as its maker intended."
        ),
        new(
            "rearSeats",
            "Rear seats behind or beside a bar may be unsafe or unlawful to use, for children above all. Do not use them until a qualified "
                + "person has said that you may."
        ),
        BareTube,
        new(
            "dailyUse",
            "Getting in and out, the view and the doors change. Open and close a swing-out door bar every time and pin it before driving off."
        ),
    ];

    /// <summary>Advice for the time after hand-over.</summary>
    public static readonly Caution LookAgain = new(
        "lookAgain",
        "Look at every bolt, hinge, pin and strap again after the first drives and then at each service. After any crash the bar, its "
            + "plates and the body below them are to be judged by a qualified person before the car is used again."
    );

    /// <summary>What an inspection pack says beside its readings.</summary>
    public static IReadOnlyList<Caution> OfPack { get; } = [BareTube, Belts, .. RoadUse.Take(4), LookAgain];
}
