using static ShopFloor.Domain.Throughput.FigureUnit;

namespace ShopFloor.Domain.Throughput;

/// <summary>The owner's figures, each defined here and nowhere else. The definitions are the shop's own: common practice, no source, but for the percentile.</summary>
public static class FigureDefinitions
{
    /// <summary>Past cars that a car is held against: the last so many finished before the range …</summary>
    public const int PastCars = 200;

    /// <summary>… within so many months.</summary>
    public const int PastMonths = 24;

    /// <summary>Of a job that has left the shop the account is looked at for so many months.</summary>
    public const int AccountMonths = 12;

    public static readonly string PercentileWords =
        "Percentiles are type 7 of Hyndman and Fan: with n values in order, h = (n − 1)p + 1, linear between the values on both sides of h.";

    public static readonly FigureDefinition TakenIn = Cars(
        "takenIn",
        "Cars taken in",
        "Cars brought in within the range: by the time of their drop-off, or of the first work on them where that was earlier or no drop-off was recorded. Jobs whose car has not come are not counted.",
        "No car was taken in.",
        "Brought in"
    );

    public static readonly FigureDefinition Finished = Cars(
        "finished",
        "Cars finished",
        "Cars whose standing sign-off was given within the range. A withdrawn sign-off counts nowhere.",
        "No car was finished.",
        "Signed off"
    );

    public static readonly FigureDefinition HandedOver = Cars(
        "handedOver",
        "Cars handed over",
        "Cars, kits and parts that left the shop within the range; cancelled jobs are not counted.",
        "No car was handed over.",
        "Handed over"
    );

    public static readonly FigureDefinition InHandByPhase = Cars(
        "inHandByPhase",
        "In hand by phase",
        "Cars brought in, neither signed off nor gone at the end of the range (or now). A car's phase is that of the first step of its route that is not over.",
        "No car was in hand.",
        "Phase"
    );

    public static readonly FigureDefinition CycleMedian = new(
        "cycleMedian",
        "Cycle time, median",
        Days,
        $"Days of 24 hours from coming in to the sign-off, nights and free days included, of the cars finished within the range; half took less. {PercentileWords}",
        "Not yet: no car was finished in this range.",
        "Job",
        null,
        new("Days", Days)
    );

    public static readonly FigureDefinition CycleP85 = CycleMedian with
    {
        Code = "cycleP85",
        Name = "Cycle time, P85",
        Sentence =
            $"As the median, but 85 in 100 of the cars finished within the range took less. With few cars it lies close to the slowest. {PercentileWords}",
    };

    public static readonly FigureDefinition PhaseTimes = new(
        "phaseTimes",
        "Cycle time by phase",
        FigureUnit.Cars,
        $"Of the cars finished within the range, the days of 24 hours each spent in a phase: median and P85. A car is in the phase of the first step that is not over, so the phases of one car add up to its cycle time. The number is how many cars are behind it. {PercentileWords}",
        "Not yet: no car was finished in this range.",
        "Phase",
        null,
        new("Median", Days),
        new("P85", Days)
    );

    public static readonly FigureDefinition Touch = new(
        "touch",
        "Touch time",
        Hours,
        "Hours within the range in which at least one person was logged on a car in hand; two people at once count once. Beside it the rest of each car's hours in hand.",
        "Not yet: nobody was logged on a car in hand in this range.",
        "Job",
        null,
        new("Touched", Hours),
        new("Waited", Hours)
    );

    public static readonly FigureDefinition Waiting = new(
        "waiting",
        "Waiting time",
        Hours,
        "Hours within the range in which a car was in hand and nobody was logged on it, by what was recorded as in the way. Of several causes at once the first of this list is named: a step on hold, the owner's stop, work sent out or stock, a customer's part after its promised day, a cure. Where none is recorded it says so: nights, free days and the queue are among it.",
        "No car in hand waited in this range.",
        "Waited for",
        "Cars",
        new("Hours", Hours)
    );

    public static readonly FigureDefinition Ageing = new(
        "ageing",
        "Ageing",
        FigureUnit.Cars,
        $"Cars in hand that are older than 85 in 100 past cars were when they were finished. Each car's row has its days since coming in and the percent of past cars that took no longer. Past cars are the last {PastCars} finished before the end of the range, at most {PastMonths} months back.",
        "Not yet: no finished car to compare with, or none in hand.",
        "Job",
        "Phase",
        new("Days in hand", Days),
        new("Past cars that took no longer", Percent)
    );

    public static readonly FigureDefinition OnTimeFirst = OnTime(
        "onTimeFirst",
        "On time, first promise",
        "the day promised when the job was opened"
    );

    public static readonly FigureDefinition OnTimeLast = OnTime(
        "onTimeLast",
        "On time, last promise",
        "the day promised last, however often it was moved"
    );

    public static readonly FigureDefinition HoursEstimated = new(
        "hoursEstimated",
        "Hours estimated",
        Hours,
        "The hours that are as often exceeded as not (P50) of the accepted quotes of the cars finished within the range, beside all hours logged on them. Hours of change orders are not in the estimate.",
        "Not yet: no car was finished in this range.",
        "Job",
        null,
        new("Estimated", Hours),
        new("Logged", Hours)
    );

    public static readonly FigureDefinition HoursByJob = new(
        "hoursByJob",
        "Hours logged, by job",
        Hours,
        "Person-hours logged on steps within the range, in whole minutes; two people at once count twice. Hours from before a car was entered here are not in it.",
        "No hours were logged.",
        "Job",
        null,
        new("Hours", Hours)
    );

    public static readonly FigureDefinition HoursByPerson = HoursByJob with
    {
        Code = "hoursByPerson",
        Name = "Hours logged, by person",
        RowTitle = "Person",
    };

    public static readonly FigureDefinition HoursBilled = new(
        "hoursBilled",
        "Hours billed",
        Hours,
        "The hours that stand in the price of the accepted quotes of cars finished within the range, as far as anything of them is invoiced by its end; beside them all hours logged on those cars.",
        "Not yet: nothing is invoiced of a car finished in this range.",
        "Job",
        null,
        new("Billed", Hours),
        new("Logged", Hours)
    );

    public static readonly FigureDefinition Margin = new(
        "margin",
        "Margin by job",
        MoneyMinor,
        "Of the cars finished within the range, as far as anything of them is invoiced or booked: sales on the ledger by its end (invoices less credit notes, without tax), less the suppliers' bills and outside work booked to the job, less what it took from the store at purchase cost, less labour at cost. Labour at cost is the minutes logged on each step by then, those from before the car was entered here included, × what an hour of the step's skill costs the shop in the price book of the job's quote, rounded once for the job; hours of a skill without a rate cost nothing here, and the row says so. Not taken off: rent and power.",
        "Not yet: nothing is invoiced or booked for a car finished in this range.",
        "Job",
        "Left out",
        new("Margin", MoneyMinor),
        new("Booked costs and stock", MoneyMinor),
        new("Labour at cost", MoneyMinor)
    );

    public static readonly FigureDefinition MarginByKit = Margin with
    {
        Code = "marginByKit",
        Name = "Margin by kit",
        Sentence = "The margins by job, added up by what was built. " + Margin.Sentence,
        RowTitle = "Kit",
        DetailTitle = "Cars",
    };

    public static readonly FigureDefinition Utilisation = new(
        "utilisation",
        "Utilisation",
        Percent,
        "Hours logged on jobs as a share of the hours of attendance within the range, of people whose attendance was recorded. Hours on jobs of people without attendance are not in it; over 100 means that somebody did two jobs at once or forgot to clock in.",
        "Not yet: nobody's attendance was recorded in this range.",
        "Person",
        null,
        new("Attendance", Hours),
        new("On jobs", Hours)
    );

    public static readonly FigureDefinition Rework = new(
        "rework",
        "Rework",
        Hours,
        "Person-hours within the range on steps that mend an earlier one.",
        "No rework was logged.",
        "Job",
        "Step",
        new("Hours", Hours)
    );

    public static readonly FigureDefinition QuotesSent = Quotes(
        "quotesSent",
        "Quotes sent",
        "Quotes sent within the range, each revision by itself; the amounts are with tax.",
        "No quote was sent.",
        "State now"
    );

    public static readonly FigureDefinition QuotesWon = Quotes(
        "quotesWon",
        "Quotes won",
        "Quotes accepted within the range; the amounts are with tax.",
        "No quote was won.",
        "Accepted"
    );

    public static readonly FigureDefinition QuotesLost = Quotes(
        "quotesLost",
        "Quotes lost",
        "Quotes declined within the range, with the reason that was given, and quotes whose last day passed in it without an answer; the amounts are with tax. A quote that was replaced by a newer revision is not lost.",
        "No quote was lost.",
        "Why"
    );

    public static readonly FigureDefinition CashIn = new(
        "cashIn",
        "Cash in",
        MoneyMinor,
        "Cash, card, bank and cheque on the ledger on the days of the range: received less given back. Work or goods in exchange are not in it.",
        "No money moved.",
        "Job",
        null,
        new("Amount", MoneyMinor)
    );

    public static readonly FigureDefinition DepositsHeld = new(
        "depositsHeld",
        "Deposits held",
        MoneyMinor,
        $"Money received less given back, up to the last day of the range, on jobs of which nothing is invoiced by then. Jobs that left the shop more than {AccountMonths} months before the range are not looked at.",
        "No deposit is held.",
        "Job",
        null,
        new("Amount", MoneyMinor)
    );

    public static readonly FigureDefinition BalancesOpen = new(
        "balancesOpen",
        "Balances open",
        MoneyMinor,
        $"What customers owe on the ledger at the end of the last day of the range for agreed work, invoiced or not, job by job; credit of one job does not lower what another owes. Jobs that left the shop more than {AccountMonths} months before the range are not looked at.",
        "Nothing is owed.",
        "Job",
        null,
        new("Amount", MoneyMinor)
    );

    /// <summary>Headings of the page, the mail and the paper, with the figures under them.</summary>
    public static readonly FigureGroup CarsAndTime = new(
        "Cars and time",
        [
            TakenIn,
            Finished,
            HandedOver,
            InHandByPhase,
            CycleMedian,
            CycleP85,
            PhaseTimes,
            Touch,
            Waiting,
            Ageing,
            OnTimeFirst,
            OnTimeLast,
        ]
    );

    public static readonly FigureGroup HoursOfPeople = new(
        "Hours",
        [HoursEstimated, HoursByJob, HoursByPerson, HoursBilled, Utilisation, Rework]
    );

    public static readonly FigureGroup QuotesAndMoney = new(
        "Quotes and money",
        [Margin, MarginByKit, QuotesSent, QuotesWon, QuotesLost, CashIn, DepositsHeld, BalancesOpen]
    );

    public static readonly IReadOnlyList<FigureGroup> Groups = [CarsAndTime, HoursOfPeople, QuotesAndMoney];

    /// <summary>In the order of the page.</summary>
    public static readonly IReadOnlyList<FigureDefinition> All = [.. Groups.SelectMany(g => g.Figures)];

    private static FigureDefinition Cars(string code, string name, string sentence, string notYet, string detail) =>
        new(code, name, FigureUnit.Cars, sentence, notYet, "Job", detail, new("Days in hand", Days));

    private static FigureDefinition OnTime(string code, string name, string promise) =>
        new(
            code,
            name,
            Percent,
            $"Share of the cars finished within the range that were signed off on or before {promise}, by the shop's own days. Cars without a promised day are not in it. Days late are whole days; below zero is early.",
            "Not yet: no car with a promised day was finished in this range.",
            "Job",
            "Promised",
            new("Days late", Days)
        );

    private static FigureDefinition Quotes(string code, string name, string sentence, string notYet, string detail) =>
        new(code, name, FigureUnit.Quotes, sentence, notYet, "Quote", detail, new("Amount", MoneyMinor));
}
