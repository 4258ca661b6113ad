namespace ShopFloor.Domain.Learning;

/// <summary>The figures by which labour standards are learned. Assumptions, no source, but where one is named.</summary>
public static class LearningRules
{
    /// <summary>Deviation of the logarithm by which a standard is taken to be off before anything is logged: two of three lie within about a quarter.</summary>
    public const double StandardDoubt = 0.25;

    /// <summary>The same for the factors of an answer.</summary>
    public const double AnswerDoubt = 0.15;

    /// <summary>Deviation of the logarithm of an operation's hours, before anything is logged.</summary>
    public const double OperationSpread = 0.35;

    /// <summary>Deviation of the logarithm that all operations of a car have in common, before anything is logged.</summary>
    public const double CarSpread = 0.2;

    /// <summary>Operations, or cars, that each of these two counts for.</summary>
    public const double SpreadWeight = 4;

    /// <summary>A standard with a smaller part of an operation's estimated minutes is left out of it.</summary>
    public const double LeastShare = 0.1;

    /// <summary>
    /// Beyond so many deviations an operation pulls no harder. 1.345 keeps 95 % of the efficiency where errors are normal: P. J. Huber, Robust estimation of a
    /// location parameter, Annals of Mathematical Statistics 35 (1964); the constant as in P. W. Holland, R. E. Welsch, Robust regression using iteratively reweighted
    /// least-squares, Communications in Statistics A6 (1977); both from memory.
    /// </summary>
    public const double HuberBound = 1.345;

    /// <summary>Most that a standard or a factor is changed in one step.</summary>
    public const double MostChange = 0.25;

    /// <summary>Fewer cars make no proposal.</summary>
    public const int LeastCars = 3;

    /// <summary>Fewer operations make no proposal.</summary>
    public const int LeastOperations = 5;

    /// <summary>Smaller changes are not worth an edition.</summary>
    public const double LeastChange = 0.02;

    /// <summary>From this change on a proposal is made where its direction is as sure as <see cref="SureOfDirection"/>, although the 95 % interval still holds "no change".</summary>
    public const double WorthChange = 0.1;

    /// <summary>How sure the direction of a worthwhile change must be.</summary>
    public const double SureOfDirection = 0.9;
}
