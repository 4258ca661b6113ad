using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Application.Devices;
using ShopFloor.Application.SignIns;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.SignIns;

namespace ShopFloor.Web.Security;

/// <summary>Sign-ins by PIN: which device they are on, how long they last, and when they end before that.</summary>
public static class DeviceSessions
{
    /// <summary>Claim that holds the device's id; who carries it signed in by PIN.</summary>
    public const string DeviceClaim = "shopfloor:device";
    public const string DeviceNameClaim = "shopfloor:device-name";
    private const string PinClaim = "shopfloor:pin-set";

    public static async Task SignInAsync(
        SignInManager<User> signIn,
        KnownDevice device,
        PersonId person,
        DateTimeOffset pinSetAt,
        DateTimeOffset now
    )
    {
        ArgumentNullException.ThrowIfNull(signIn);
        ArgumentNullException.ThrowIfNull(device);
        var user =
            await signIn.UserManager.FindByIdAsync(person.ToString())
            ?? throw new InvalidOperationException("The person was found a moment ago.");
        await signIn.SignInWithClaimsAsync(
            user,
            new AuthenticationProperties
            {
                IsPersistent = true,
                IssuedUtc = now,
                ExpiresUtc = now + SignInSession.LongestByPin,
                AllowRefresh = false,
            },
            [
                new Claim(DeviceClaim, device.Id.ToString()),
                new Claim(DeviceNameClaim, device.Name),
                new Claim(PinClaim, Stamp(pinSetAt)),
            ]
        );
    }

    /// <summary>Signs out where the session or the device was ended, or the PIN was changed or taken away.</summary>
    public static async Task CheckAsync(CookieValidatePrincipalContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        var services = context.HttpContext.RequestServices;
        var ct = context.HttpContext.RequestAborted;
        if (
            context.Principal is { } principal
            && !(
                await Sessions.HoldAsync(principal, services.GetRequiredService<CheckSession>(), ct)
                && await HoldsAsync(principal, services.GetRequiredService<ReadDevices>(), ct)
            )
        )
        {
            context.RejectPrincipal();
            await context.HttpContext.SignOutAsync(IdentityConstants.ApplicationScheme);
        }
    }

    /// <summary>Whether a sign-in still stands: true for one without a device; else as long as the device is in use and the PIN is the one that was entered.</summary>
    public static async Task<bool> HoldsAsync(ClaimsPrincipal principal, ReadDevices devices, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(principal);
        ArgumentNullException.ThrowIfNull(devices);
        return principal.FindFirstValue(DeviceClaim) is not { } claim
            || (
                Guid.TryParse(claim, out var device)
                && Guid.TryParse(principal.FindFirstValue(ClaimTypes.NameIdentifier), out var person)
                && await devices.PinSetAtAsync(new DeviceId(device), new PersonId(person), ct) is { } setAt
                && Stamp(setAt) == principal.FindFirstValue(PinClaim)
            );
    }

    /// <summary>The principal is made anew every minute from the person alone: session and device go along.</summary>
    public static Task KeepClaimsAsync(SecurityStampRefreshingPrincipalContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        if (context is { CurrentPrincipal: { } current, NewPrincipal.Identity: ClaimsIdentity renewed })
        {
            renewed.AddClaims(
                current.Claims.Where(c => c.Type is Sessions.Claim or DeviceClaim or DeviceNameClaim or PinClaim)
            );
        }

        return Task.CompletedTask;
    }

    private static string Stamp(DateTimeOffset at) =>
        at.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture);
}
