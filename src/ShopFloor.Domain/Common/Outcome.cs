using System.Diagnostics.CodeAnalysis;
using System.Runtime.CompilerServices;

namespace ShopFloor.Domain.Common;

/// <summary>Why something may not happen now: a code for programs, a sentence for people, the operation it concerns if there is one.</summary>
/// <param name="Code">Stable, camelCase, e.g. <c>customerPart</c>.</param>
/// <param name="Text">What is wrong, and what would lift it.</param>
/// <param name="Operation">Code of the operation concerned, e.g. <c>160</c>.</param>
public sealed record Reason(string Code, string Text, string? Operation = null);

/// <summary>One input that cannot be taken: the JSON path of the field (camelCase, e.g. <c>doors[0].door</c>) and a sentence.</summary>
public sealed record FieldError(string Path, string Text);

/// <summary>A "no" that a user can cause. Bugs are exceptions; these are values, mapped in one place to HTTP and in one place to pages.</summary>
public abstract record Failure
{
    private Failure() { }

    /// <summary>Bad input (400): nothing was written.</summary>
    public sealed record Invalid(IReadOnlyList<FieldError> Errors) : Failure;

    /// <summary>The state forbids it, or somebody else changed it first (409).</summary>
    public sealed record Refused(IReadOnlyList<Reason> Reasons) : Failure;

    /// <summary>There is no such thing (404).</summary>
    public sealed record NotFound(string Text) : Failure;

    /// <summary>The actor may not do this (403).</summary>
    public sealed record Forbidden(string Text) : Failure;

    /// <summary>Larger than the limit (413).</summary>
    public sealed record TooLarge(string Text) : Failure;

    /// <summary>A kind of content that is not taken (415).</summary>
    public sealed record WrongType(string Text) : Failure;

    public static Failure Field(string path, string text) => new Invalid([new FieldError(path, text)]);

    public static Failure Because(string code, string text, string? operation = null) =>
        new Refused([new Reason(code, text, operation)]);

    public static Failure Missing(string what) => new NotFound($"There is no such {what}.");

    /// <summary>All sentences of the failure in one, for a page or a command line.</summary>
    public string Sentence =>
        this switch
        {
            Invalid f => string.Join(" ", f.Errors.Select(e => e.Text)),
            Refused f => string.Join(" ", f.Reasons.Select(r => r.Text)),
            NotFound f => f.Text,
            Forbidden f => f.Text,
            TooLarge f => f.Text,
            WrongType f => f.Text,
            _ => throw new InvalidOperationException("Unknown kind of failure."),
        };
}

/// <summary>Nothing to hand back.</summary>
public readonly record struct Done;

/// <summary>A value, or the failure that stands in its place.</summary>
public readonly struct Outcome<T>
{
    private readonly T? value;

    private Outcome(T? value, Failure? failure)
    {
        this.value = value;
        Failure = failure;
    }

    /// <summary>Null when there is a value.</summary>
    public Failure? Failure { get; }

    [MemberNotNullWhen(false, nameof(Failure))]
    public bool IsSuccess => Failure is null;

    /// <exception cref="InvalidOperationException">There is a failure instead.</exception>
    public T Value => Failure is null ? value! : throw new InvalidOperationException(Failure.Sentence);

    public static Outcome<T> Success(T value) => new(value, null);

    public static Outcome<T> Fail(Failure failure) => new(default, failure);

    public static implicit operator Outcome<T>(T value) => new(value, null);

    public static implicit operator Outcome<T>(Failure failure) => new(default, failure);

    public TOut Match<TOut>(Func<T, TOut> success, Func<Failure, TOut> failure) =>
        Failure is null ? success(value!) : failure(Failure);

    /// <summary>Goes on with the value, or carries the failure along.</summary>
    public Outcome<TOut> Then<TOut>(Func<T, Outcome<TOut>> next) => Failure is null ? next(value!) : Failure;

    public bool TryGet([MaybeNullWhen(false)] out T result, [NotNullWhen(false)] out Failure? failure)
    {
        result = value;
        failure = Failure;
        return Failure is null;
    }
}

/// <summary>Shorthand for commands that hand nothing back.</summary>
public static class Outcome
{
    public static Outcome<Done> Ok => default(Done);
}

/// <summary>Gathers field errors, so that a form gets all its sentences at once.</summary>
public sealed class FieldErrors
{
    private readonly List<FieldError> errors = [];

    public bool Any => errors.Count > 0;

    public FieldErrors Add(string path, string text)
    {
        errors.Add(new FieldError(path, text));
        return this;
    }

    public FieldErrors AddIf(bool isWrong, string path, string text) => isWrong ? Add(path, text) : this;

    /// <summary>The same for texts with figures in them, which are put together only where something is wrong: checks run at every answer at the counter.</summary>
    public FieldErrors AddIf(
        bool isWrong,
        string path,
        [InterpolatedStringHandlerArgument(nameof(isWrong))] ref TextWhenWrong text
    ) => isWrong ? Add(path, text.ToText()) : this;

    public FieldErrors AddIf(
        bool isWrong,
        [InterpolatedStringHandlerArgument(nameof(isWrong))] ref TextWhenWrong path,
        string text
    ) => isWrong ? Add(path.ToText(), text) : this;

    public FieldErrors AddIf(
        bool isWrong,
        [InterpolatedStringHandlerArgument(nameof(isWrong))] ref TextWhenWrong path,
        [InterpolatedStringHandlerArgument(nameof(isWrong))] ref TextWhenWrong text
    ) => isWrong ? Add(path.ToText(), text.ToText()) : this;

    /// <summary>Adds the failure's field errors, each path behind <paramref name="prefix"/>; other failures are a programmer's mistake here.</summary>
    public FieldErrors Take<T>(Outcome<T> outcome, string prefix = "")
    {
        if (outcome.Failure is Failure.Invalid invalid)
        {
            errors.AddRange(invalid.Errors.Select(e => e with { Path = prefix + e.Path }));
        }

        return this;
    }

    public Failure ToFailure() => new Failure.Invalid([.. errors]);
}

/// <summary>An interpolated text that is put together only when a check has failed.</summary>
[InterpolatedStringHandler]
public ref struct TextWhenWrong
{
    private DefaultInterpolatedStringHandler text;

    public TextWhenWrong(int literalLength, int formattedCount, bool isWrong, out bool isNeeded)
    {
        isNeeded = isWrong;
        text = isWrong ? new DefaultInterpolatedStringHandler(literalLength, formattedCount) : default;
    }

    public void AppendLiteral(string value) => text.AppendLiteral(value);

    public void AppendFormatted<T>(T value) => text.AppendFormatted(value);

    public void AppendFormatted<T>(T value, string? format) => text.AppendFormatted(value, format);

    internal string ToText() => text.ToStringAndClear();
}
