using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Common;

/// <summary>What an actor may be allowed to do. Every use case, page and endpoint names one of these or says that anybody may.</summary>
public enum Permission
{
    /// <summary>See customers, cars, quotes, jobs.</summary>
    SeeOffice,

    /// <summary>Add and change customers and cars.</summary>
    KeepCustomers,

    /// <summary>Remove a customer's personal data for good.</summary>
    ErasePersonalData,

    /// <summary>See prices, quotes, accounts.</summary>
    SeeMoney,

    /// <summary>Write, send and close quotes.</summary>
    Quote,

    /// <summary>Take and give back money, write invoices.</summary>
    TakeMoney,

    /// <summary>Let work start or a car go although money is missing.</summary>
    DecideOnMoney,

    /// <summary>See and book what a job costs the shop, and its margin.</summary>
    KeepCosts,

    /// <summary>Book a car in, record its condition, take the authorisation, hand it over.</summary>
    BookIn,

    /// <summary>Open, move and cancel jobs.</summary>
    RunJobs,

    /// <summary>See the floor: cars, operations, lines to check.</summary>
    SeeFloor,

    /// <summary>Start, stop, hold and finish operations.</summary>
    WorkOnFloor,

    /// <summary>Log one's own attendance, breaks and time without a job.</summary>
    LogTime,

    /// <summary>Set one's own PIN for the shop's tablets; asks for a sign-in by password.</summary>
    SetOwnPin,

    /// <summary>Keep one's own sign-in: password, authenticator app, passkeys, where one is signed in; asks for a sign-in without PIN.</summary>
    KeepOwnSignIn,

    /// <summary>See everybody's times, enter and correct them.</summary>
    KeepTimes,

    /// <summary>Open hot-work permits, keep the fire watch, close them after it.</summary>
    KeepFireWatch,

    /// <summary>Note what came out of a car and went back, and where the car, its keys and its parts are.</summary>
    KeepParts,

    /// <summary>Write down which material went into a job, with its certificate, and who welded what.</summary>
    KeepTrace,

    /// <summary>Save the workbench's figures with a job, replace and withdraw them; keep the table of bender dies.</summary>
    KeepFigures,

    /// <summary>See what lies in the store, without its cost.</summary>
    SeeStock,

    /// <summary>Take out of the store, put back, count, set aside, saw.</summary>
    KeepStock,

    /// <summary>Decide what is kept in store and from whom it is bought; order and receive.</summary>
    BuyStock,

    /// <summary>Add photos to a job, place and caption them.</summary>
    AddPhotos,

    /// <summary>Record readings.</summary>
    Inspect,

    /// <summary>Accept a fault as it is.</summary>
    AcceptNonconformances,

    /// <summary>Sign a job off, or withdraw a sign-off.</summary>
    SignOff,

    /// <summary>Put rework on a job's route.</summary>
    OrderRework,

    /// <summary>Stop jobs, override the build-sequence check, move running jobs to another edition of their route, change route templates.</summary>
    DecideOnRoutes,

    /// <summary>Write inspection plans, move running jobs to another version of theirs.</summary>
    DecideOnPlans,

    /// <summary>Make and revoke a customer's link.</summary>
    ShareProgress,

    /// <summary>Read the owner's figures.</summary>
    SeeFigures,

    /// <summary>Read the history.</summary>
    SeeHistory,

    /// <summary>Decide who gets in: people, roles, links for passwords, keys of programs, tablets. Never by a key that is limited, or it could make itself one that is not.</summary>
    KeepAccess,

    /// <summary>Change the shop's settings and price book; see people and keys.</summary>
    RunShop,
}

/// <summary>The one table of who may do what.</summary>
public static class Permissions
{
    private static readonly Dictionary<Role, Permission[]> Table = new()
    {
        [Role.Owner] = Enum.GetValues<Permission>(),
        [Role.FrontDesk] =
        [
            Permission.SeeOffice,
            Permission.KeepCustomers,
            Permission.SeeMoney,
            Permission.Quote,
            Permission.TakeMoney,
            Permission.KeepCosts,
            Permission.BookIn,
            Permission.AddPhotos,
            Permission.RunJobs,
            Permission.SeeFloor,
            Permission.LogTime,
            Permission.SetOwnPin,
            Permission.KeepOwnSignIn,
            Permission.KeepTimes,
            Permission.OrderRework,
            Permission.KeepFireWatch,
            Permission.KeepParts,
            Permission.KeepTrace,
            Permission.SeeStock,
            Permission.KeepStock,
            Permission.BuyStock,
            Permission.ShareProgress,
            Permission.SeeHistory,
        ],
        [Role.Fabricator] =
        [
            Permission.SeeFloor,
            Permission.WorkOnFloor,
            Permission.LogTime,
            Permission.SetOwnPin,
            Permission.KeepOwnSignIn,
            Permission.KeepFireWatch,
            Permission.KeepParts,
            Permission.KeepTrace,
            Permission.KeepFigures,
            Permission.SeeStock,
            Permission.KeepStock,
            Permission.AddPhotos,
            Permission.Inspect,
            Permission.OrderRework,
        ],
        [Role.Inspector] =
        [
            Permission.SeeFloor,
            Permission.LogTime,
            Permission.SetOwnPin,
            Permission.KeepOwnSignIn,
            Permission.KeepFireWatch,
            Permission.KeepParts,
            Permission.KeepTrace,
            Permission.KeepFigures,
            Permission.SeeStock,
            Permission.AddPhotos,
            Permission.Inspect,
            Permission.SignOff,
            Permission.OrderRework,
            Permission.SeeHistory,
        ],
    };

    /// <summary>What a sign-in by PIN opens, as far as the person's roles allow it: the floor, never prices, settings or people.</summary>
    private static readonly HashSet<Permission> Floor =
    [
        Permission.SeeFloor,
        Permission.WorkOnFloor,
        Permission.LogTime,
        Permission.KeepFireWatch,
        Permission.KeepParts,
        Permission.KeepFigures,
        Permission.SeeStock,
        Permission.KeepStock,
        Permission.AddPhotos,
        Permission.Inspect,
        Permission.SignOff,
        Permission.OrderRework,
    ];

    public static IReadOnlySet<Permission> ByPin => Floor;

    public static IReadOnlyDictionary<Role, Permission[]> ByRole => Table;

    public static bool May(this Actor actor, Permission permission) =>
        (!actor.IsByPin || Floor.Contains(permission))
        && (actor.Scopes is not { } scopes || scopes.Contains(permission.ToString()))
        && (permission != Permission.KeepAccess || !actor.IsLimited)
        && actor.Roles.Any(role => Table[role].Contains(permission));

    /// <summary>Whether somebody may do something about it, not only look: for what is done outside of <see cref="CommandRunner"/>.</summary>
    public static bool MayDo(this Actor actor, Permission permission) => !actor.IsReader && actor.May(permission);
}
