package io.evenwarm.link;

import java.io.IOException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.PrivateKey;
import java.security.cert.X509Certificate;
import java.util.List;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;
import org.bouncycastle.asn1.pkcs.PrivateKeyInfo;
import org.bouncycastle.openssl.PEMKeyPair;
import org.bouncycastle.openssl.jcajce.JcaPEMKeyConverter;

/** TLS of a server for browsers, which show no certificate of their own. */
public final class ServingTls {

    private static final char[] NO_PASSWORD = new char[0];

    private ServingTls() {}

    /**
     * TLS with a key and its certificates from files.
     *
     * @param certificates PEM (RFC 7468): the server's own first, then those it was signed with
     * @param key PEM: PKCS #8, or the older form of RSA and EC keys, without a password
     * @throws IOException when they can't be read or don't belong together
     */
    public static SSLContext of(Path certificates, Path key) throws IOException {
        List<X509Certificate> chain = PemFile.certificatesOf(certificates);
        return context(privateKey(key), chain.toArray(X509Certificate[]::new));
    }

    /** TLS with an identity that signed its certificate itself: browsers ask their user first. */
    public static SSLContext of(Identity identity) throws IOException {
        return context(identity.key(), identity.certificate());
    }

    private static PrivateKey privateKey(Path file) throws IOException {
        JcaPEMKeyConverter converter = new JcaPEMKeyConverter();
        for (Object found : PemFile.objectsOf(file)) {
            if (found instanceof PrivateKeyInfo info) {
                return converter.getPrivateKey(info);
            }
            if (found instanceof PEMKeyPair pair) {
                return converter.getPrivateKey(pair.getPrivateKeyInfo());
            }
        }
        throw new IOException(file + " holds no private key without a password");
    }

    private static SSLContext context(PrivateKey key, X509Certificate... chain) throws IOException {
        try {
            KeyStore store = KeyStore.getInstance("PKCS12");
            store.load(null, null);
            store.setKeyEntry("server", key, NO_PASSWORD, chain);
            KeyManagerFactory keys =
                    KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
            keys.init(store, NO_PASSWORD);
            SSLContext context = SSLContext.getInstance("TLS");
            context.init(keys.getKeyManagers(), null, null);
            return context;
        } catch (GeneralSecurityException e) {
            throw new IOException("key and certificate can't be used: " + e.getMessage(), e);
        }
    }
}
