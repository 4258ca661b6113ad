using System.Net;
using System.Net.Sockets;

namespace ShopFloor.Domain.Integrations;

/// <summary>To which addresses the program may send on a person's word: those of the public internet, never the shop's own network, this machine, or a cloud's inner services (server-side request forgery), unless whoever runs the server opened a network.</summary>
/// <remarks>Source: the IANA special-purpose address registries for IPv4 and IPv6 (RFC 6890 and its updates), entries that are not globally reachable, from memory; multicast and the ways to write an IPv4 address within IPv6 as well.</remarks>
/// <param name="opened">Networks that may be reached all the same, by http too.</param>
public sealed class ReachableNetworks(IReadOnlyList<IPNetwork> opened)
{
    private static readonly IPNetwork[] Special =
    [
        .. new[]
        {
            "0.0.0.0/8",
            "10.0.0.0/8",
            "100.64.0.0/10",
            "127.0.0.0/8",
            "169.254.0.0/16",
            "172.16.0.0/12",
            "192.0.0.0/24",
            "192.0.2.0/24",
            "192.88.99.0/24",
            "192.168.0.0/16",
            "198.18.0.0/15",
            "198.51.100.0/24",
            "203.0.113.0/24",
            "224.0.0.0/4",
            "240.0.0.0/4",
            // Only 2000::/3 is given out to the public; within it these are not.
            "2001::/23",
            "2001:db8::/32",
            "2002::/16",
            "3fff::/20",
        }.Select(IPNetwork.Parse),
    ];

    private static readonly IPNetwork GlobalUnicast = IPNetwork.Parse("2000::/3");

    /// <summary>Whether it lies in the public internet.</summary>
    public static bool IsPublic(IPAddress address)
    {
        ArgumentNullException.ThrowIfNull(address);
        var plain = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        return (plain.AddressFamily == AddressFamily.InterNetwork || GlobalUnicast.Contains(plain))
            && !Special.Any(n => n.Contains(plain));
    }

    /// <summary>Whether it was opened by whoever runs the server.</summary>
    public bool IsOpened(IPAddress address)
    {
        ArgumentNullException.ThrowIfNull(address);
        var plain = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        return opened.Any(n => n.Contains(plain));
    }

    /// <summary>Whether something may be sent there.</summary>
    /// <param name="address">Where the name leads to at this moment.</param>
    /// <param name="isEncrypted">By https.</param>
    public bool MayReach(IPAddress address, bool isEncrypted) =>
        IsOpened(address) || (isEncrypted && IsPublic(address));
}
