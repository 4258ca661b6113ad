using System.Diagnostics.CodeAnalysis;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using MudBlazor;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Shared;

/// <summary>Base of interactive office pages and panels: knows who is signed in, loads, shows failures, and loads again when something it shows was changed elsewhere.</summary>
public abstract class OfficePage : ComponentBase, IDisposable
{
    private readonly CancellationTokenSource closing = new();
    private Guid? shown;
    private bool isTurning;

    [CascadingParameter]
    public Task<AuthenticationState>? SignedIn { get; set; }

    [Inject]
    public ISnackbar Snackbar { get; set; } = default!;

    [Inject]
    public NavigationManager Navigation { get; set; } = default!;

    [Inject]
    public IChangeNotices Changes { get; set; } = default!;

    [Inject]
    public ILoggerFactory Loggers { get; set; } = default!;

    /// <summary>Who is signed in; set before <see cref="LoadAsync"/>.</summary>
    protected Actor Actor { get; private set; } = default!;

    /// <summary>True until the first load is through.</summary>
    protected bool IsLoading { get; private set; } = true;

    /// <summary>Why the page could not be loaded; null when it was.</summary>
    protected Failure? LoadFailure { get; private set; }

    /// <summary>Ends when the page is closed.</summary>
    protected CancellationToken Closing => closing.Token;

    /// <summary>Reads what the page shows. Hand failures back; do not throw for a user's "no".</summary>
    protected abstract Task<Failure?> LoadAsync();

    /// <summary>Which changes make the page load again. None by default. Leave half-typed forms alone in <see cref="LoadAsync"/>.</summary>
    protected virtual bool Concerns(ChangeNotice notice) => false;

    /// <summary>What a page shows that serves both a new thing and a saved one: null is the new one. The router keeps the page open between the two.</summary>
    protected virtual Guid? Subject => null;

    /// <summary>Forgets what was typed, before another <see cref="Subject"/> is loaded.</summary>
    protected virtual void Restart() { }

    protected override async Task OnParametersSetAsync()
    {
        if (!IsLoading && !isTurning && Subject != shown)
        {
            Restart();
            await ShowAsync();
        }
    }

    protected override async Task OnInitializedAsync()
    {
        var state = SignedIn is null ? null : await SignedIn;
        if (state is null || !Actors.TryRead(state.User, out var actor, "office"))
        {
            LoadFailure = new Failure.Forbidden("Sign in first.");
            IsLoading = false;
            return;
        }

        Actor = actor;
        await ShowAsync();
    }

    /// <summary>Loads the subject, and again when the person went on to another one while it was being read.</summary>
    private async Task ShowAsync()
    {
        isTurning = true;
        shown = Subject;
        LoadFailure = await LoadAsync();
        while (Subject != shown)
        {
            shown = Subject;
            Restart();
            LoadFailure = await LoadAsync();
        }

        isTurning = false;
        IsLoading = false;
    }

    protected override void OnAfterRender(bool firstRender)
    {
        if (firstRender && LoadFailure is not Failure.Forbidden)
        {
            _ = ListenAsync();
        }
    }

    protected async Task ReloadAsync()
    {
        LoadFailure = await LoadAsync();
        IsLoading = false;
    }

    /// <summary>An envelope for a command of this page. Make <paramref name="key"/> once per form or tap, so that a repeat is recognised.</summary>
    protected Envelope Envelope(string? key = null, long? version = null) =>
        new(Actor, null, key, $"{Actor.Person} {GetType().Name}", version);

    /// <summary>A fresh client-made key.</summary>
    protected static string NewKey() => Guid.CreateVersion7().ToString("N");

    /// <summary>Hands the value over where there is one; else shows the failure's sentence.</summary>
    protected bool Accepted<T>(Outcome<T> outcome, [MaybeNullWhen(false)] out T value, string? done = null)
    {
        if (outcome.TryGet(out value, out var failure))
        {
            if (done is not null)
            {
                Snackbar.Add(done, Severity.Success);
            }

            return true;
        }

        Snackbar.Add(failure.Sentence, Severity.Error, o => o.RequireInteraction = true);
        return false;
    }

    private async Task ListenAsync()
    {
        try
        {
            await foreach (var notice in Changes.ListenAsync(Closing))
            {
                if (Concerns(notice))
                {
                    await InvokeAsync(async () =>
                    {
                        await ReloadAsync();
                        StateHasChanged();
                    });
                }
            }
        }
        catch (OperationCanceledException) when (Closing.IsCancellationRequested)
        {
            // The page was closed.
        }
        catch (ObjectDisposedException)
        {
            // The circuit ended while a notice was on its way.
        }
    }

    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    protected virtual void Dispose(bool disposing)
    {
        if (disposing && !closing.IsCancellationRequested)
        {
            closing.Cancel();
            closing.Dispose();
        }
    }
}
