package io.evenwarm.link;

import java.net.Socket;
import java.security.GeneralSecurityException;
import java.security.Principal;
import java.security.PrivateKey;
import java.security.cert.CertificateException;
import java.security.cert.X509Certificate;
import java.util.function.Predicate;
import javax.net.ssl.KeyManager;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLEngine;
import javax.net.ssl.TrustManager;
import javax.net.ssl.X509ExtendedKeyManager;
import javax.net.ssl.X509ExtendedTrustManager;

/**
 * TLS in which each side shows its one identity and trusts pinned keys only.
 *
 * <p>No chain, name or date is judged: a pin says exactly which key is meant, TLS itself proves
 * that the other side holds it (RFC 8446 s.4.4.3), and a Pi whose clock is wrong after a power cut
 * must still be reachable.
 */
final class PinnedTls {

    /** TLS 1.3 (RFC 8446) and nothing older. */
    static final String VERSION = "TLSv1.3";

    private PinnedTls() {}

    static SSLContext context(Identity own, Predicate<KeyPin> trusted) {
        try {
            SSLContext context = SSLContext.getInstance(VERSION);
            context.init(
                    new KeyManager[] {new OneIdentity(own)},
                    new TrustManager[] {new PinsOnly(trusted)},
                    null);
            return context;
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("this Java has no TLS 1.3", e);
        }
    }

    /** Shows the same certificate whatever the other side asks for. */
    private static final class OneIdentity extends X509ExtendedKeyManager {
        private static final String ALIAS = "evenwarm";
        private final Identity identity;

        OneIdentity(Identity identity) {
            this.identity = identity;
        }

        @Override
        public String[] getClientAliases(String keyType, Principal[] issuers) {
            return new String[] {ALIAS};
        }

        @Override
        public String chooseClientAlias(String[] keyTypes, Principal[] issuers, Socket socket) {
            return ALIAS;
        }

        @Override
        public String chooseEngineClientAlias(
                String[] keyTypes, Principal[] issuers, SSLEngine engine) {
            return ALIAS;
        }

        @Override
        public String[] getServerAliases(String keyType, Principal[] issuers) {
            return new String[] {ALIAS};
        }

        @Override
        public String chooseServerAlias(String keyType, Principal[] issuers, Socket socket) {
            return ALIAS;
        }

        @Override
        public String chooseEngineServerAlias(
                String keyType, Principal[] issuers, SSLEngine engine) {
            return ALIAS;
        }

        @Override
        public X509Certificate[] getCertificateChain(String alias) {
            return new X509Certificate[] {identity.certificate()};
        }

        @Override
        public PrivateKey getPrivateKey(String alias) {
            return identity.key();
        }
    }

    private static final class PinsOnly extends X509ExtendedTrustManager {
        private final Predicate<KeyPin> trusted;

        PinsOnly(Predicate<KeyPin> trusted) {
            this.trusted = trusted;
        }

        private void check(X509Certificate[] chain) throws CertificateException {
            KeyPin shown = KeyPin.of(chain[0].getPublicKey());
            if (!trusted.test(shown)) {
                throw new UntrustedKeyException(shown);
            }
        }

        @Override
        public void checkClientTrusted(X509Certificate[] chain, String type, Socket socket)
                throws CertificateException {
            check(chain);
        }

        @Override
        public void checkServerTrusted(X509Certificate[] chain, String type, Socket socket)
                throws CertificateException {
            check(chain);
        }

        @Override
        public void checkClientTrusted(X509Certificate[] chain, String type, SSLEngine engine)
                throws CertificateException {
            check(chain);
        }

        @Override
        public void checkServerTrusted(X509Certificate[] chain, String type, SSLEngine engine)
                throws CertificateException {
            check(chain);
        }

        @Override
        public void checkClientTrusted(X509Certificate[] chain, String type)
                throws CertificateException {
            check(chain);
        }

        @Override
        public void checkServerTrusted(X509Certificate[] chain, String type)
                throws CertificateException {
            check(chain);
        }

        /** No authorities: whoever connects shows the one certificate it has. */
        @Override
        public X509Certificate[] getAcceptedIssuers() {
            return new X509Certificate[0];
        }
    }

    /** The other side showed a key that is not pinned here. */
    static final class UntrustedKeyException extends CertificateException {
        private static final long serialVersionUID = 1L;

        UntrustedKeyException(KeyPin shown) {
            super("its key " + shown + " is not among the trusted keys");
        }
    }
}
