package io.evenwarm.monitor.notice.channel;

import java.io.IOException;
import java.io.OutputStream;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.KeyStore;
import java.security.PrivateKey;
import java.security.cert.X509Certificate;
import java.security.spec.ECGenParameterSpec;
import java.time.Instant;
import java.util.Base64;
import java.util.Date;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;
import org.bouncycastle.asn1.x500.X500Name;
import org.bouncycastle.asn1.x509.Extension;
import org.bouncycastle.asn1.x509.GeneralName;
import org.bouncycastle.asn1.x509.GeneralNames;
import org.bouncycastle.cert.jcajce.JcaX509CertificateConverter;
import org.bouncycastle.cert.jcajce.JcaX509v3CertificateBuilder;
import org.bouncycastle.operator.OperatorCreationException;
import org.bouncycastle.operator.jcajce.JcaContentSignerBuilder;

/** A server's key and the certificate that it signed itself, made anew for each test. */
public final class TestCertificate {

    private static final String ALIAS = "server";
    private static final char[] PASSWORD = "test".toCharArray();

    private final KeyPair pair;
    private final X509Certificate certificate;

    private TestCertificate(KeyPair pair, X509Certificate certificate) {
        this.pair = pair;
        this.certificate = certificate;
    }

    /** For a server of that DNS name. */
    public static TestCertificate forHost(String host) {
        try {
            KeyPairGenerator generator = KeyPairGenerator.getInstance("EC");
            generator.initialize(new ECGenParameterSpec("secp256r1"));
            KeyPair pair = generator.generateKeyPair();
            X500Name name = new X500Name("CN=" + host);
            X509Certificate certificate =
                    new JcaX509CertificateConverter()
                            .getCertificate(
                                    new JcaX509v3CertificateBuilder(
                                                    name,
                                                    BigInteger.ONE,
                                                    Date.from(
                                                            Instant.parse("2000-01-01T00:00:00Z")),
                                                    Date.from(
                                                            Instant.parse("2100-01-01T00:00:00Z")),
                                                    name,
                                                    pair.getPublic())
                                            .addExtension(
                                                    Extension.subjectAlternativeName,
                                                    false,
                                                    new GeneralNames(
                                                            new GeneralName(
                                                                    GeneralName.dNSName, host)))
                                            .build(
                                                    new JcaContentSignerBuilder("SHA256withECDSA")
                                                            .build(pair.getPrivate())));
            return new TestCertificate(pair, certificate);
        } catch (GeneralSecurityException | OperatorCreationException | IOException e) {
            throw new AssertionError("making a certificate", e);
        }
    }

    private KeyStore store() throws GeneralSecurityException, IOException {
        KeyStore store = KeyStore.getInstance(KeyStore.getDefaultType());
        store.load(null, null);
        store.setKeyEntry(
                ALIAS,
                pair.getPrivate(),
                PASSWORD,
                new java.security.cert.Certificate[] {certificate});
        return store;
    }

    /** Keeps it for {@link #load} in another process. */
    public Path save(Path file) {
        try (OutputStream out = Files.newOutputStream(file)) {
            store().store(out, PASSWORD);
            return file;
        } catch (GeneralSecurityException | IOException e) {
            throw new AssertionError("keeping a certificate", e);
        }
    }

    /** What {@link #save} kept. */
    static TestCertificate load(Path file) {
        try {
            KeyStore store = KeyStore.getInstance(file.toFile(), PASSWORD);
            X509Certificate certificate = (X509Certificate) store.getCertificate(ALIAS);
            return new TestCertificate(
                    new KeyPair(
                            certificate.getPublicKey(), (PrivateKey) store.getKey(ALIAS, PASSWORD)),
                    certificate);
        } catch (GeneralSecurityException | IOException e) {
            throw new AssertionError("reading a certificate", e);
        }
    }

    /** What a server shows itself with. */
    public SSLContext serverContext() {
        try {
            KeyManagerFactory keys =
                    KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
            keys.init(store(), PASSWORD);
            SSLContext context = SSLContext.getInstance("TLS");
            context.init(keys.getKeyManagers(), null, null);
            return context;
        } catch (GeneralSecurityException | IOException e) {
            throw new AssertionError("a server's TLS", e);
        }
    }

    /** Writes it as PEM. */
    Path writeCertificate(Path file) {
        return write(file, "CERTIFICATE", encoded());
    }

    /** Writes its key as PEM (PKCS #8). */
    Path writeKey(Path file) {
        return write(file, "PRIVATE KEY", pair.getPrivate().getEncoded());
    }

    /** Believes this one and no other. */
    public TrustedRoots trusted(Path folder) {
        try {
            return TrustedRoots.of(writeCertificate(folder.resolve("roots.pem")));
        } catch (IOException e) {
            throw new AssertionError("reading what was just written", e);
        }
    }

    private byte[] encoded() {
        try {
            return certificate.getEncoded();
        } catch (GeneralSecurityException e) {
            throw new AssertionError(e);
        }
    }

    private static Path write(Path file, String kind, byte[] der) {
        try {
            return Files.writeString(
                    file,
                    "-----BEGIN "
                            + kind
                            + "-----\n"
                            + Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(der)
                            + "\n-----END "
                            + kind
                            + "-----\n");
        } catch (IOException e) {
            throw new AssertionError("writing " + file, e);
        }
    }
}
