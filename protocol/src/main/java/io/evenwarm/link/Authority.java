package io.evenwarm.link;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import java.util.Collection;
import javax.net.ssl.SSLContext;
import javax.net.ssl.TrustManagerFactory;

/**
 * Trust in servers of others that have a certificate by an authority of the user's own, where the
 * system's authorities don't know it: a mail server, a broker, the outside switch.
 */
public final class Authority {

    private Authority() {}

    /**
     * TLS that trusts the certificates of a file and no other.
     *
     * @param pem certificates, one after another, as in RFC 7468 s.5
     * @throws IOException when the file can't be read or holds no certificate; the message says so
     */
    public static SSLContext trusting(Path pem) throws IOException {
        try (InputStream in = Files.newInputStream(pem)) {
            Collection<? extends Certificate> certificates =
                    CertificateFactory.getInstance("X.509").generateCertificates(in);
            if (certificates.isEmpty()) {
                throw new IOException("it holds no certificate");
            }
            KeyStore store = KeyStore.getInstance("PKCS12");
            store.load(null, null);
            int number = 0;
            for (Certificate certificate : certificates) {
                number++;
                store.setCertificateEntry("authority " + number, certificate);
            }
            TrustManagerFactory trust =
                    TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
            trust.init(store);
            SSLContext context = SSLContext.getInstance("TLS");
            context.init(null, trust.getTrustManagers(), null);
            return context;
        } catch (GeneralSecurityException e) {
            throw new IOException("it holds no certificate that this Java can read", e);
        }
    }
}
