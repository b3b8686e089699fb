package io.evenwarm.link;

import java.io.IOException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.X509Certificate;
import java.util.List;
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
        List<X509Certificate> certificates = PemFile.certificatesOf(pem);
        try {
            KeyStore store = KeyStore.getInstance("PKCS12");
            store.load(null, null);
            int number = 0;
            for (X509Certificate certificate : certificates) {
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
            throw new IOException(pem + " holds a certificate that this Java can't use", e);
        }
    }
}
