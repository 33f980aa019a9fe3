using System.Net;
using System.Net.Sockets;

namespace Secondpass.App.Api;

/// <summary>Finds ports on this computer's own addresses.</summary>
internal static class Ports
{
    /// <summary>A port that is free now.</summary>
    public static int AnyFree()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }

    /// <summary>Whether a port is free on 127.0.0.1 and, where this computer has it, on [::1].</summary>
    public static bool IsFree(int port) =>
        CanBind(IPAddress.Loopback, port) && (!Socket.OSSupportsIPv6 || CanBind(IPAddress.IPv6Loopback, port));

    private static bool CanBind(IPAddress address, int port)
    {
        using var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            socket.Bind(new IPEndPoint(address, port));
            return true;
        }
        catch (SocketException failure)
        {
            return failure.SocketErrorCode is SocketError.AddressNotAvailable or SocketError.AddressFamilyNotSupported;
        }
    }
}
