package io.evenwarm.link;

import java.io.EOFException;
import java.io.IOException;
import java.net.Socket;
import java.net.SocketException;
import java.util.Locale;
import java.util.Optional;

/** What a failed TLS handshake means, in words a person can act on. */
final class TlsRefusals {

    private static final int LINGER_MILLIS = 300;
    private static final int LINGER_OCTETS_MAX = 65_536;

    private TlsRefusals() {}

    /** Why {@code failure} happened, as the end of a sentence about the other side. */
    static String words(IOException failure) {
        Optional<PinnedTls.UntrustedKeyException> untrusted = untrustedKey(failure);
        if (untrusted.isPresent()) {
            return String.valueOf(untrusted.get().getMessage());
        }
        String text = String.valueOf(failure.getMessage()).toLowerCase(Locale.ROOT);
        // JSSE has no types for alerts; their names stand in the message (RFC 8446 s.6.2).
        if (text.contains("certificate_unknown") || text.contains("bad_certificate")) {
            return "it does not trust this program's key";
        }
        if (text.contains("certificate_required") || text.contains("empty client certificate")) {
            return "a key was asked for and none was shown";
        }
        if (text.contains("protocol_version")
                || text.contains("protocol version")
                || text.contains("not enabled or supported")
                || text.contains("not accepted by client preferences")) {
            return "it does not speak TLS 1.3";
        }
        if (text.contains("plaintext connection") || text.contains("unsupported or unrecognized")) {
            return "it does not speak TLS";
        }
        if (failure instanceof EOFException
                || failure instanceof SocketException
                || text.contains("peer shut down")
                || text.contains("terminated the handshake")
                || text.contains("closed")) {
            return "it closed the connection";
        }
        return "TLS failed: " + failure.getMessage();
    }

    /**
     * A socket that is closed with something unread in it is reset, and the other side may then
     * never see why (RFC 1122 s.4.2.2.13). So what it still sends is read and thrown away first.
     */
    static void letArrive(Socket plain) {
        try {
            plain.shutdownOutput();
            plain.setSoTimeout(LINGER_MILLIS);
            int left = LINGER_OCTETS_MAX;
            byte[] ignored = new byte[1024];
            while (left > 0) {
                int count = plain.getInputStream().read(ignored);
                if (count < 0) {
                    return;
                }
                left -= count;
            }
        } catch (IOException e) {
            // It is gone or silent: enough was done for it.
        }
    }

    private static Optional<PinnedTls.UntrustedKeyException> untrustedKey(Throwable failure) {
        for (Throwable t = failure; t != null; t = t.getCause()) {
            if (t instanceof PinnedTls.UntrustedKeyException untrusted) {
                return Optional.of(untrusted);
            }
        }
        return Optional.empty();
    }
}
