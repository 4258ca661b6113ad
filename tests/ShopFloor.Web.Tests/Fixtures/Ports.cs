using System.Net;
using System.Net.Sockets;

namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>
/// Ports for servers under test. They lie below those that the system gives to outgoing connections (from 32768 on):
/// one of these could be taken by a browser's connection after it was found free and before the server listens.
/// </summary>
public static class Ports
{
    private const int First = 15_000;
    private const int Count = 15_000;
    private static int last = Environment.ProcessId * 37;

    public static int Free()
    {
        while (true)
        {
            var port = First + ((Interlocked.Increment(ref last) & int.MaxValue) % Count);
            try
            {
                using var listener = new TcpListener(IPAddress.Loopback, port);
                listener.Start();
                return port;
            }
            catch (SocketException)
            {
                // Somebody listens there: the next one.
            }
        }
    }
}
