package io.evenwarm.monitor.notice.channel;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import java.util.Collection;
import java.util.Optional;
import javax.net.ssl.SSLContext;
import javax.net.ssl.TrustManagerFactory;

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
            return new TrustedRoots(context(Optional.empty()));
        } catch (GeneralSecurityException | IOException e) {
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
        try (InputStream in = Files.newInputStream(file)) {
            Collection<? extends Certificate> certificates =
                    CertificateFactory.getInstance("X.509").generateCertificates(in);
            if (certificates.isEmpty()) {
                throw new IOException(file + " holds no certificate");
            }
            KeyStore store = KeyStore.getInstance(KeyStore.getDefaultType());
            store.load(null, null);
            int count = 0;
            for (Certificate certificate : certificates) {
                store.setCertificateEntry("root " + count++, certificate);
            }
            return new TrustedRoots(context(Optional.of(store)));
        } catch (GeneralSecurityException e) {
            throw new IOException(file + " holds no certificates as PEM (" + e + ")", e);
        }
    }

    private static SSLContext context(Optional<KeyStore> roots)
            throws GeneralSecurityException, IOException {
        TrustManagerFactory trust =
                TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
        trust.init(roots.orElse(null));
        SSLContext made = SSLContext.getInstance("TLS");
        made.init(null, trust.getTrustManagers(), null);
        return made;
    }

    SSLContext context() {
        return context;
    }
}
