package io.evenwarm.link;

import java.io.IOException;
import java.math.BigInteger;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.PrivateKey;
import java.security.PublicKey;
import java.security.SecureRandom;
import java.security.Signature;
import java.security.cert.X509Certificate;
import java.security.spec.ECGenParameterSpec;
import java.time.Instant;
import java.util.Date;
import java.util.HexFormat;
import org.bouncycastle.asn1.x500.X500Name;
import org.bouncycastle.asn1.x500.X500NameBuilder;
import org.bouncycastle.asn1.x500.style.BCStyle;
import org.bouncycastle.cert.X509CertificateHolder;
import org.bouncycastle.cert.jcajce.JcaX509CertificateConverter;
import org.bouncycastle.cert.jcajce.JcaX509v3CertificateBuilder;
import org.bouncycastle.operator.OperatorCreationException;
import org.bouncycastle.operator.jcajce.JcaContentSignerBuilder;

/**
 * What a program proves itself with over TLS: an EC P-256 key and a certificate that it signed
 * itself. The other side knows it by {@link #pin()}; name and dates in the certificate are for
 * people and judged by nobody.
 *
 * <p>Immutable.
 */
public final class Identity {

    private static final String CURVE = "secp256r1";

    /** ECDSA with SHA-256, its two numbers in DER (RFC 3279 s.2.2.3). */
    static final String SIGNATURE = "SHA256withECDSA";

    /** Of the curve's order. */
    static final int KEY_BITS = 256;

    /** Fixed, since a Raspberry Pi that makes its identity may not know the date yet. */
    private static final Instant NOT_BEFORE = Instant.parse("2000-01-01T00:00:00Z");

    /** "No well-defined expiration date" (RFC 5280 s.4.1.2.5). */
    private static final Instant NOT_AFTER = Instant.parse("9999-12-31T23:59:59Z");

    private static final int SERIAL_BITS = 127;

    private final PrivateKey key;
    private final X509Certificate certificate;

    private Identity(PrivateKey key, X509Certificate certificate) {
        this.key = key;
        this.certificate = certificate;
    }

    /**
     * A new identity, unlike any other.
     *
     * @param name who it is for, in words for people
     */
    public static Identity create(String name) {
        return create(name, NOT_BEFORE, NOT_AFTER);
    }

    static Identity create(String name, Instant notBefore, Instant notAfter) {
        try {
            SecureRandom random = new SecureRandom();
            KeyPairGenerator generator = KeyPairGenerator.getInstance("EC");
            generator.initialize(new ECGenParameterSpec(CURVE), random);
            return certified(name, generator.generateKeyPair(), notBefore, notAfter);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("this Java can't make an EC P-256 key", e);
        }
    }

    private static Identity certified(
            String name, KeyPair pair, Instant notBefore, Instant notAfter) {
        try {
            X500Name subject =
                    new X500NameBuilder(BCStyle.INSTANCE).addRDN(BCStyle.CN, name).build();
            X509CertificateHolder holder =
                    new JcaX509v3CertificateBuilder(
                                    subject,
                                    new BigInteger(SERIAL_BITS, new SecureRandom())
                                            .add(BigInteger.ONE),
                                    Date.from(notBefore),
                                    Date.from(notAfter),
                                    subject,
                                    pair.getPublic())
                            .build(new JcaContentSignerBuilder(SIGNATURE).build(pair.getPrivate()));
            return new Identity(
                    pair.getPrivate(), new JcaX509CertificateConverter().getCertificate(holder));
        } catch (GeneralSecurityException | OperatorCreationException e) {
            throw new IllegalStateException("this Java can't make an EC P-256 key", e);
        }
    }

    /**
     * Reads what {@link #save} wrote.
     *
     * @throws NoSuchFileException when there is no such file
     * @throws IOException says what is wrong with the file, and what to do
     */
    public static Identity load(Path file) throws IOException {
        IdentityFile.Content content = IdentityFile.read(file);
        if (!belongTogether(content.key(), content.certificate().getPublicKey())) {
            throw new IOException(
                    file
                            + ": the key and the certificate in it do not belong together; restore the"
                            + " file, or delete it to get a new identity");
        }
        return new Identity(content.key(), content.certificate());
    }

    /**
     * The identity in {@code file}, or a new one, saved there, when there is no such file.
     *
     * @param name stands in the certificate, which anybody who connects sees before they are let
     *     in; an identity with another name there gets a new certificate for its old key
     */
    public static Identity loadOrCreate(Path file, String name) throws IOException {
        try {
            Identity found = load(file);
            if (found.isFor(name)) {
                return found;
            }
            Identity renamed =
                    certified(
                            name,
                            new KeyPair(found.certificate.getPublicKey(), found.key),
                            NOT_BEFORE,
                            NOT_AFTER);
            renamed.save(file);
            return renamed;
        } catch (NoSuchFileException e) {
            Identity created = create(name);
            created.save(file);
            return created;
        }
    }

    /**
     * Writes key and certificate as PEM (RFC 7468), readable by the owner only from the first
     * moment. A file that is there is replaced, at once and whole.
     */
    public void save(Path file) throws IOException {
        IdentityFile.write(file, new IdentityFile.Content(key, certificate));
    }

    /** What the other side must know this identity by. */
    public KeyPin pin() {
        return KeyPin.of(certificate.getPublicKey());
    }

    private boolean isFor(String name) {
        X500Name subject = X500Name.getInstance(certificate.getSubjectX500Principal().getEncoded());
        return subject.equals(
                new X500NameBuilder(BCStyle.INSTANCE).addRDN(BCStyle.CN, name).build());
    }

    /** The public key as a SubjectPublicKeyInfo in DER (RFC 5280 s.4.1); hexadecimal. */
    public String publicKey() {
        return HexFormat.of().formatHex(certificate.getPublicKey().getEncoded());
    }

    /** ECDSA with SHA-256 over {@code octets}, in DER. */
    byte[] sign(byte[] octets) {
        try {
            Signature signer = Signature.getInstance(SIGNATURE);
            signer.initSign(key);
            signer.update(octets);
            return signer.sign();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("this Java can't sign with an EC P-256 key", e);
        }
    }

    PrivateKey key() {
        return key;
    }

    X509Certificate certificate() {
        return certificate;
    }

    private static boolean belongTogether(PrivateKey key, PublicKey publicKey) {
        byte[] anything = {1, 2, 3};
        try {
            Signature signer = Signature.getInstance(SIGNATURE);
            signer.initSign(key);
            signer.update(anything);
            byte[] signature = signer.sign();
            signer.initVerify(publicKey);
            signer.update(anything);
            return signer.verify(signature);
        } catch (GeneralSecurityException e) {
            return false;
        }
    }
}
