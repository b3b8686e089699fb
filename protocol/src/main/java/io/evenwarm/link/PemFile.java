package io.evenwarm.link;

import java.io.IOException;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.cert.X509Certificate;
import java.util.ArrayList;
import java.util.List;
import org.bouncycastle.cert.X509CertificateHolder;
import org.bouncycastle.cert.jcajce.JcaX509CertificateConverter;
import org.bouncycastle.openssl.PEMParser;

/** What stands in files of others in PEM (RFC 7468). */
final class PemFile {

    private PemFile() {}

    /** Everything in it, as Bouncy Castle has it. */
    static List<Object> objectsOf(Path file) throws IOException {
        List<Object> objects = new ArrayList<>();
        try (Reader text = Files.newBufferedReader(file, StandardCharsets.US_ASCII);
                PEMParser parser = new PEMParser(text)) {
            for (Object found = parser.readObject(); found != null; found = parser.readObject()) {
                objects.add(found);
            }
        } catch (RuntimeException e) {
            // The parser has unchecked exceptions of its own for broken Base64.
            throw new IOException(file + " is no PEM file", e);
        }
        return objects;
    }

    /**
     * The certificates in it, in their order; at least one.
     *
     * @throws IOException when there is none, or one can't be read
     */
    static List<X509Certificate> certificatesOf(Path file) throws IOException {
        List<X509Certificate> certificates = new ArrayList<>();
        for (Object found : objectsOf(file)) {
            if (found instanceof X509CertificateHolder holder) {
                try {
                    certificates.add(new JcaX509CertificateConverter().getCertificate(holder));
                } catch (GeneralSecurityException e) {
                    throw new IOException(file + " holds a certificate that can't be read", e);
                }
            }
        }
        if (certificates.isEmpty()) {
            throw new IOException(file + " holds no certificate");
        }
        return certificates;
    }
}
