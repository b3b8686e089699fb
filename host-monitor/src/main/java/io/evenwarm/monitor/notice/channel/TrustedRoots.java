package io.evenwarm.monitor.notice.channel;

import io.evenwarm.link.Authority;
import java.io.IOException;
import java.nio.file.Path;
import java.security.NoSuchAlgorithmException;
import javax.net.ssl.SSLContext;

/**
 * Whose certificates a channel believes: those that Java brings, or only those of a file, for a
 * server at home that signed its own.
 */
public final class TrustedRoots {

    private final SSLContext context;

    private TrustedRoots(SSLContext context) {
        this.context = context;
    }

    /** Java's own. */
    public static TrustedRoots usual() {
        try {
            return new TrustedRoots(SSLContext.getDefault());
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("this Java has no TLS", e);
        }
    }

    /**
     * Only those of a file.
     *
     * @param file certificates as PEM (RFC 7468)
     * @throws IOException says what is wrong with the file
     */
    public static TrustedRoots of(Path file) throws IOException {
        return new TrustedRoots(Authority.trusting(file));
    }

    SSLContext context() {
        return context;
    }
}
