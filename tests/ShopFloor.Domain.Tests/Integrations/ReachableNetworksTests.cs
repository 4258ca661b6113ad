using System.Net;
using ShopFloor.Domain.Integrations;

namespace ShopFloor.Domain.Tests.Integrations;

/// <summary>Addresses from the IANA special-purpose address registries (RFC 6890 and updates), one of each entry that is not globally reachable, from memory.</summary>
public sealed class ReachableNetworksTests
{
    private static readonly ReachableNetworks Closed = new([]);

    [Theory]
    [InlineData("0.0.0.0", "this network")]
    [InlineData("10.1.2.3", "private use")]
    [InlineData("100.64.0.1", "shared by carriers")]
    [InlineData("127.0.0.1", "this machine")]
    [InlineData("169.254.169.254", "link local, where clouds tell secrets")]
    [InlineData("172.16.0.1", "private use")]
    [InlineData("172.31.255.255", "private use")]
    [InlineData("192.0.0.8", "protocol assignments")]
    [InlineData("192.0.2.1", "documentation")]
    [InlineData("192.168.1.1", "private use")]
    [InlineData("198.18.0.1", "benchmarks")]
    [InlineData("198.51.100.7", "documentation")]
    [InlineData("203.0.113.7", "documentation")]
    [InlineData("224.0.0.1", "multicast")]
    [InlineData("255.255.255.255", "broadcast")]
    [InlineData("::", "no address")]
    [InlineData("::1", "this machine")]
    [InlineData("::ffff:127.0.0.1", "this machine, written within IPv6")]
    [InlineData("::ffff:10.0.0.1", "private use, written within IPv6")]
    [InlineData("::7f00:1", "IPv4 within IPv6, the old way")]
    [InlineData("64:ff9b::a00:1", "translated to IPv4")]
    [InlineData("100::1", "discarded")]
    [InlineData("2001:db8::1", "documentation")]
    [InlineData("2001::1", "tunnels")]
    [InlineData("2002:7f00:1::1", "tunnels to IPv4")]
    [InlineData("3fff::1", "documentation")]
    [InlineData("5f00::1", "segment routing")]
    [InlineData("fc00::1", "unique local")]
    [InlineData("fe80::1", "link local")]
    [InlineData("ff02::1", "multicast")]
    public void Special_addresses_are_not_reached(string address, string why) =>
        Assert.False(Closed.MayReach(IPAddress.Parse(address), isEncrypted: true), why);

    [Theory]
    [InlineData("1.1.1.1")]
    [InlineData("172.15.255.255")]
    [InlineData("172.32.0.0")]
    [InlineData("100.128.0.0")]
    [InlineData("198.20.0.0")]
    [InlineData("223.255.255.255")]
    [InlineData("2606:4700:4700::1111")]
    [InlineData("::ffff:1.1.1.1")]
    public void Public_addresses_are_reached_by_https_only(string address)
    {
        Assert.True(Closed.MayReach(IPAddress.Parse(address), isEncrypted: true));
        Assert.False(Closed.MayReach(IPAddress.Parse(address), isEncrypted: false));
    }

    [Fact]
    public void An_opened_network_is_reached_and_its_neighbour_is_not()
    {
        var opened = new ReachableNetworks([IPNetwork.Parse("10.1.0.0/16")]);

        Assert.True(opened.MayReach(IPAddress.Parse("10.1.255.1"), isEncrypted: false));
        Assert.True(opened.MayReach(IPAddress.Parse("::ffff:10.1.0.1"), isEncrypted: true));
        Assert.False(opened.MayReach(IPAddress.Parse("10.2.0.1"), isEncrypted: true));
    }
}
