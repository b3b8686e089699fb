package io.evenwarm.link;

import java.io.IOException;
import java.net.BindException;
import java.net.ConnectException;
import java.net.InetSocketAddress;
import java.net.NoRouteToHostException;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.time.Duration;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Predicate;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLException;
import javax.net.ssl.SSLParameters;
import javax.net.ssl.SSLSocket;

/**
 * Links over TCP with TLS 1.3, in which both sides know each other by {@link KeyPin}.
 *
 * <p>In TLS 1.3 the side that connects is done before the other has judged its key (RFC 8446 s.2).
 * So the listening side sends one flag octet, time fill between frames (RFC 1662 s.4.4), once it
 * has let the other in, and {@link #connect} waits for it: a refusal is then told where a person
 * can see it, and not at some later read.
 */
public final class TlsLinks {

    /** A flag: fills the time between frames and means nothing else. */
    static final int LET_IN = 0x7E;

    private TlsLinks() {}

    /**
     * Listens for programs with trusted keys.
     *
     * @param address port 0 for any free port; see {@link TlsListener#port()}
     * @param own this side's identity
     * @param trusted the keys that may come in; empty lets nobody in
     * @throws LinkException when the address can't be used
     */
    public static TlsListener listen(InetSocketAddress address, Identity own, Set<KeyPin> trusted)
            throws LinkException {
        return listen(address, own, trusted, TlsListener.HANDSHAKE_MAX);
    }

    /**
     * As the other, for keys that come and go.
     *
     * @param trusted whether a key may come in; asked at each handshake, on a thread of its own
     */
    public static TlsListener listen(
            InetSocketAddress address, Identity own, Predicate<KeyPin> trusted)
            throws LinkException {
        return listen(address, own, trusted, TlsListener.HANDSHAKE_MAX);
    }

    static TlsListener listen(
            InetSocketAddress address, Identity own, Set<KeyPin> trusted, Duration handshakeMax)
            throws LinkException {
        return listen(address, own, Set.copyOf(trusted)::contains, handshakeMax);
    }

    private static TlsListener listen(
            InetSocketAddress address,
            Identity own,
            Predicate<KeyPin> trusted,
            Duration handshakeMax)
            throws LinkException {
        if (address.isUnresolved()) {
            throw new LinkException("the name " + address.getHostString() + " has no address");
        }
        ServerSocket socket = null;
        try {
            socket = new ServerSocket();
            socket.setReuseAddress(true);
            socket.bind(address);
            return TlsListener.start(socket, PinnedTls.context(own, trusted), handshakeMax);
        } catch (IOException e) {
            Closing.quietly(socket);
            throw cannotListen(address, e);
        }
    }

    /** As {@link #connect(InetSocketAddress, Identity, Set, Duration)}, with one trusted key. */
    public static Link connect(
            InetSocketAddress address, Identity own, KeyPin trusted, Duration timeout)
            throws LinkException {
        return connect(address, own, Set.of(trusted), timeout);
    }

    /**
     * Connects to a listening program with a trusted key, and waits until it has let us in.
     *
     * @param address where it listens
     * @param own this side's identity
     * @param trusted the keys that the other side may have
     * @param timeout for all of it together, above zero
     * @throws LinkException when nobody listens, either side refuses the other, or time runs out
     */
    public static Link connect(
            InetSocketAddress address, Identity own, Set<KeyPin> trusted, Duration timeout)
            throws LinkException {
        return connect(address, own, Set.copyOf(trusted)::contains, timeout);
    }

    /**
     * Connects to whoever listens there, to be paired with it: the pairing must then prove {@link
     * Link#peerKey()} before anything else is believed.
     */
    public static Link connectToPair(InetSocketAddress address, Identity own, Duration timeout)
            throws LinkException {
        return connect(address, own, any -> true, timeout);
    }

    private static Link connect(
            InetSocketAddress address, Identity own, Predicate<KeyPin> trusted, Duration timeout)
            throws LinkException {
        String where = address.getHostString() + ":" + address.getPort();
        if (address.isUnresolved()) {
            throw new LinkException("the name " + address.getHostString() + " has no address");
        }
        int timeoutMillis = (int) Math.min(Math.max(timeout.toMillis(), 1), Integer.MAX_VALUE);
        Socket plain = new Socket();
        AtomicBoolean late = new AtomicBoolean();
        CompletableFuture<Void> limit =
                CompletableFuture.runAsync(
                        () -> {
                            late.set(true);
                            Closing.quietly(plain);
                        },
                        CompletableFuture.delayedExecutor(timeoutMillis, TimeUnit.MILLISECONDS));
        try {
            plain.connect(address, timeoutMillis);
            SSLSocket secure = layer(PinnedTls.context(own, trusted), plain, address, true);
            secure.startHandshake();
            TlsOctets octets = new TlsOctets(plain, secure);
            waitUntilLetIn(octets);
            limit.cancel(false);
            if (late.get()) {
                throw new SocketTimeoutException();
            }
            return FramedLink.over(octets, peer(secure, where), Optional.of(peerKey(secure)));
        } catch (IOException e) {
            if (e instanceof SSLException) {
                TlsRefusals.letArrive(plain);
            }
            Closing.quietly(plain);
            throw late.get() || e instanceof SocketTimeoutException
                    ? new LinkException(
                            where + " did not answer within " + timeoutMillis + " ms", e)
                    : cannotConnect(where, own, e);
        } finally {
            limit.cancel(false);
        }
    }

    /** TLS over {@code plain}, which stays open until it is closed itself. */
    static SSLSocket layer(
            SSLContext context, Socket plain, InetSocketAddress remote, boolean asClient)
            throws IOException {
        plain.setTcpNoDelay(true);
        SSLSocket secure =
                (SSLSocket)
                        context.getSocketFactory()
                                .createSocket(
                                        plain, remote.getHostString(), remote.getPort(), false);
        SSLParameters parameters = secure.getSSLParameters();
        parameters.setProtocols(new String[] {PinnedTls.VERSION});
        secure.setUseClientMode(asClient);
        if (!asClient) {
            parameters.setNeedClientAuth(true);
        }
        secure.setSSLParameters(parameters);
        return secure;
    }

    /** Address and key of the other side, once the handshake has proved the key. */
    static String peer(SSLSocket secure, String where) throws IOException {
        return where + " (" + peerKey(secure) + ")";
    }

    /** The key that the handshake has proved. */
    static KeyPin peerKey(SSLSocket secure) throws IOException {
        return KeyPin.of(secure.getSession().getPeerCertificates()[0].getPublicKey());
    }

    private static void waitUntilLetIn(TlsOctets octets) throws IOException {
        byte[] one = new byte[1];
        int count = octets.read(one);
        if (count < 0) {
            throw new LinkException("it closed the connection before letting this program in");
        }
        if ((one[0] & 0xFF) != LET_IN) {
            throw new LinkException("it does not speak this protocol");
        }
    }

    private static LinkException cannotListen(InetSocketAddress address, IOException e) {
        String where = address.getHostString() + ":" + address.getPort();
        return e instanceof BindException
                ? new LinkException(
                        "can't listen on "
                                + where
                                + ": the port is taken, or the address is not this machine's ("
                                + e.getMessage()
                                + "); stop the other program, or choose another port (0 for any)",
                        e)
                : new LinkException("can't listen on " + where + ": " + e.getMessage(), e);
    }

    private static LinkException cannotConnect(String where, Identity own, IOException e) {
        if (e instanceof ConnectException) {
            return new LinkException("nothing listens at " + where, e);
        }
        if (e instanceof NoRouteToHostException) {
            return new LinkException(where + " can't be reached: " + e.getMessage(), e);
        }
        String why = e instanceof LinkException ? e.getMessage() : TlsRefusals.words(e);
        return new LinkException(
                "no link to " + where + ": " + why + " (this program's key is " + own.pin() + ")",
                e);
    }
}
