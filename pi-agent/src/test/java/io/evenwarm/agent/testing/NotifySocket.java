package io.evenwarm.agent.testing;

import com.sun.jna.Native;
import com.sun.jna.NativeLong;
import com.sun.jna.Platform;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Optional;

/**
 * The service manager's end of its notify protocol: a real datagram socket that is bound to a path
 * or to an abstract name. Linux only.
 */
public final class NotifySocket implements AutoCloseable {

    private static final short AF_UNIX = 1;
    private static final int SOCK_DGRAM = 2;
    private static final int SOCK_CLOEXEC = 0x80000;
    // socket(7), asm-generic/socket.h.
    private static final int SOL_SOCKET = 1;
    private static final int SO_RCVTIMEO = 20;
    private static final int MOST_OCTETS = 4096;

    private final String name;
    private final int descriptor;

    private NotifySocket(String name, int descriptor) {
        this.name = name;
        this.descriptor = descriptor;
    }

    /**
     * Listens.
     *
     * @param name a full path, or {@code @} and a name
     */
    public static NotifySocket bind(String name) throws IOException {
        int descriptor = C.socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
        byte[] octets = name.getBytes(StandardCharsets.UTF_8);
        boolean isAbstract = name.startsWith("@");
        ByteBuffer address =
                ByteBuffer.allocate(2 + octets.length + (isAbstract ? 0 : 1))
                        .order(ByteOrder.nativeOrder())
                        .putShort(AF_UNIX)
                        .put(octets);
        if (isAbstract) {
            address.put(2, (byte) 0);
        }
        if (descriptor < 0 || C.bind(descriptor, address.array(), address.capacity()) != 0) {
            throw new IOException("can't bind " + name + ": errno " + Native.getLastError());
        }
        return new NotifySocket(name, descriptor);
    }

    /** As the environment variable {@code NOTIFY_SOCKET} has it. */
    public String name() {
        return name;
    }

    /** The next datagram; empty when none comes in time. */
    public Optional<String> receive(long millis) throws IOException {
        // struct timeval of a 64-bit machine: seconds and microseconds.
        ByteBuffer limit =
                ByteBuffer.allocate(16)
                        .order(ByteOrder.nativeOrder())
                        .putLong(millis / 1000)
                        .putLong(millis % 1000 * 1000);
        C.setsockopt(descriptor, SOL_SOCKET, SO_RCVTIMEO, limit.array(), limit.capacity());
        byte[] buffer = new byte[MOST_OCTETS];
        long length = C.recv(descriptor, buffer, new NativeLong(buffer.length), 0).longValue();
        if (length < 0) {
            return Optional.empty();
        }
        return Optional.of(new String(Arrays.copyOf(buffer, (int) length), StandardCharsets.UTF_8));
    }

    @Override
    public void close() throws IOException {
        C.close(descriptor);
        if (name.startsWith("/")) {
            Files.deleteIfExists(Path.of(name));
        }
    }

    private static final class C {
        static {
            Native.register(Platform.C_LIBRARY_NAME);
        }

        private C() {}

        static native int socket(int family, int type, int protocol);

        static native int bind(int descriptor, byte[] address, int length);

        static native NativeLong recv(int descriptor, byte[] buffer, NativeLong length, int flags);

        static native int setsockopt(
                int descriptor, int level, int option, byte[] value, int length);

        static native int close(int descriptor);
    }
}
