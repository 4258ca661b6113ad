using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.HotWork;

/// <summary>The figures of the fire watch, each in one place.</summary>
public static class FireWatch
{
    /// <summary>Minutes that a watch lasts at least after the last spark: OSHA 29 CFR 1910.252(a)(2)(iii)(B) asks for half an hour after welding or cutting.</summary>
    public const int LeastMinutes = 30;

    /// <summary>What a shop starts with: newer editions of NFPA 51B ask for one hour (2019 edition, as summarised by a fire-code consultant; the standard itself was not read).</summary>
    public const int UsualMinutes = 60;

    /// <summary>Longest that can be set, minutes; the 2019 edition of NFPA 51B names up to three further hours where the permit giver asks for them.</summary>
    public const int MostMinutes = 240;

    /// <summary>Longest shift that one permit is good for, hours; common practice, no source.</summary>
    public const int LongestShiftHours = 12;

    /// <summary>What a permit is good for where nothing is said, hours.</summary>
    public const int UsualShiftHours = 8;

    /// <summary>A start of hot work that reaches the server later than this after the tap was kept back on a device without connection: nobody else knew of it, so it is not taken.</summary>
    public static readonly TimeSpan LatestStart = TimeSpan.FromMinutes(2);

    /// <summary>Who decides; stands beside every permit and watch.</summary>
    public const string WhoDecides =
        "This list reminds; it permits nothing by itself. The fire authority, the local fire code, the insurer and a qualified person decide what "
        + "hot work needs here, and how long the watch lasts.";

    /// <summary>The minutes of a shop or of one permit.</summary>
    public static int Minutes(int? wanted, int least, string path, FieldErrors errors)
    {
        var minutes = wanted ?? Math.Max(least, LeastMinutes);
        errors.AddIf(
            minutes < least || minutes > MostMinutes,
            path,
            $"A fire watch of {minutes} minutes is not between {least} and {MostMinutes}. After the last spark it lasts at least {LeastMinutes} minutes (OSHA 29 CFR 1910.252)."
        );
        return minutes;
    }
}
