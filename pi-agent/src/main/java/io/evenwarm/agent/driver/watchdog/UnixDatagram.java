package io.evenwarm.agent.driver.watchdog;

import com.sun.jna.Native;
import com.sun.jna.NativeLong;
import com.sun.jna.Platform;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * Sends datagrams to a Unix socket, which the JDK can't: its Unix sockets are streams. Linux only.
 * Never waits: what the other side has no room for is an error.
 *
 * <p>One thread at a time.
 */
final class UnixDatagram implements AutoCloseable {

    // Values of Linux on ARM and x86: include/linux/socket.h, include/linux/net.h and
    // include/uapi/asm-generic/fcntl.h.
    private static final int AF_UNIX = 1;
    private static final int SOCK_DGRAM = 2;
    private static final int SOCK_CLOEXEC = 0x80000;
    private static final int MSG_DONTWAIT = 0x40;
    private static final int MSG_NOSIGNAL = 0x4000;

    /** Length of {@code sun_path}: unix(7). */
    static final int MOST_PATH_OCTETS = 108;

    private static final int FAMILY_OCTETS = 2;

    private final byte[] address;
    private int descriptor;

    private UnixDatagram(byte[] address, int descriptor) {
        this.address = address;
        this.descriptor = descriptor;
    }

    /**
     * Makes a socket for sending; nothing is sent yet, and nobody need listen yet.
     *
     * @param name a path, or {@code @} and a name without a file (an abstract one, unix(7))
     * @throws IOException when the name can't be one, or the system has no more sockets
     * @throws LinkageError when the native library can't be loaded
     */
    static UnixDatagram to(String name) throws IOException {
        byte[] address = address(name);
        int descriptor = C.socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
        if (descriptor < 0) {
            throw new IOException("no socket: " + error());
        }
        return new UnixDatagram(address, descriptor);
    }

    /** The {@code sockaddr_un} of a name, as long as it is: unix(7), "Address format". */
    static byte[] address(String name) throws IOException {
        byte[] path = name.getBytes(StandardCharsets.UTF_8);
        boolean isAbstract = name.startsWith("@");
        if (!isAbstract && !name.startsWith("/")) {
            throw new IOException("\"" + name + "\" is neither a full path nor begins with @");
        }
        // A path is followed by a zero; the length of an abstract name ends it.
        if (path.length < 2 || path.length + (isAbstract ? 0 : 1) > MOST_PATH_OCTETS) {
            throw new IOException(
                    "\"" + name + "\" is not 2 to " + (MOST_PATH_OCTETS - 1) + " octets long");
        }
        ByteBuffer address =
                ByteBuffer.allocate(FAMILY_OCTETS + path.length + (isAbstract ? 0 : 1))
                        .order(ByteOrder.nativeOrder())
                        .putShort((short) AF_UNIX)
                        .put(path);
        if (isAbstract) {
            address.put(FAMILY_OCTETS, (byte) 0);
        }
        return address.array();
    }

    /**
     * Sends one datagram.
     *
     * @throws IOException when nobody listens there, or the listener's queue is full
     */
    void send(byte[] datagram) throws IOException {
        if (descriptor < 0) {
            throw new IOException("the socket is closed");
        }
        long sent =
                C.sendto(
                                descriptor,
                                datagram,
                                new NativeLong(datagram.length),
                                MSG_DONTWAIT | MSG_NOSIGNAL,
                                address,
                                address.length)
                        .longValue();
        if (sent != datagram.length) {
            throw new IOException(error());
        }
    }

    private static String error() {
        int number = Native.getLastError();
        return C.strerror(number) + " (errno " + number + ")";
    }

    @Override
    public void close() {
        if (descriptor >= 0) {
            C.close(descriptor);
            descriptor = -1;
        }
    }

    /** The C library's functions; loaded with the first of them. */
    private static final class C {
        static {
            Native.register(Platform.C_LIBRARY_NAME);
        }

        private C() {}

        static native int socket(int family, int type, int protocol);

        static native NativeLong sendto(
                int descriptor,
                byte[] data,
                NativeLong length,
                int flags,
                byte[] address,
                int addressLength);

        static native int close(int descriptor);

        static native String strerror(int number);
    }
}
