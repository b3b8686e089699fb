package io.evenwarm.link;

import java.io.EOFException;
import java.io.IOException;
import java.net.SocketException;
import java.util.Locale;
import java.util.Optional;

/** What a failed TLS handshake means, in words a person can act on. */
final class TlsRefusals {

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
                || text.contains("closed")) {
            return "it closed the connection";
        }
        return "TLS failed: " + failure.getMessage();
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
