package io.evenwarm.link;

import io.evenwarm.settings.SecretFile;
import java.io.IOException;
import java.io.Reader;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.PrivateKey;
import java.security.cert.CertificateException;
import java.security.cert.X509Certificate;
import java.util.EnumSet;
import java.util.Set;
import org.bouncycastle.asn1.pkcs.PrivateKeyInfo;
import org.bouncycastle.cert.X509CertificateHolder;
import org.bouncycastle.cert.jcajce.JcaX509CertificateConverter;
import org.bouncycastle.openssl.PEMParser;
import org.bouncycastle.openssl.jcajce.JcaPEMKeyConverter;
import org.bouncycastle.openssl.jcajce.JcaPEMWriter;
import org.bouncycastle.openssl.jcajce.JcaPKCS8Generator;
import org.jspecify.annotations.Nullable;

/** The file that keeps an identity: a PKCS #8 key and a certificate, as PEM (RFC 7468). */
final class IdentityFile {

    private IdentityFile() {}

    /** What stands in the file. */
    record Content(PrivateKey key, X509Certificate certificate) {}

    static Content read(Path file) throws IOException {
        if (!Files.exists(file)) {
            throw new NoSuchFileException(file.toString(), null, "there is no identity file");
        }
        refuseIfOthersMayRead(file);
        PrivateKeyInfo key = null;
        X509CertificateHolder certificate = null;
        try (Reader text = Files.newBufferedReader(file, StandardCharsets.US_ASCII);
                PEMParser parser = new PEMParser(text)) {
            for (Object found = parser.readObject(); found != null; found = parser.readObject()) {
                if (found instanceof PrivateKeyInfo privateKey) {
                    key = privateKey;
                } else if (found instanceof X509CertificateHolder holder) {
                    certificate = holder;
                }
            }
            return new Content(
                    new JcaPEMKeyConverter().getPrivateKey(need(file, key, "PRIVATE KEY")),
                    new JcaX509CertificateConverter()
                            .getCertificate(need(file, certificate, "CERTIFICATE")));
        } catch (IOException | CertificateException | RuntimeException e) {
            // The parser has unchecked exceptions of its own for broken Base64.
            throw new IOException(
                    file
                            + " is damaged ("
                            + e.getMessage()
                            + "); restore it from a backup, or delete it to get a new identity, which"
                            + " the other sides must then be told to trust",
                    e);
        }
    }

    static void write(Path file, Content content) throws IOException {
        StringWriter text = new StringWriter();
        try (JcaPEMWriter writer = new JcaPEMWriter(text)) {
            writer.writeObject(new JcaPKCS8Generator(content.key(), null));
            writer.writeObject(content.certificate());
        }
        SecretFile.write(file, text.toString());
    }

    private static void refuseIfOthersMayRead(Path file) throws IOException {
        if (!isPosix(file)) {
            return;
        }
        Set<PosixFilePermission> rights = Files.getPosixFilePermissions(file);
        Set<PosixFilePermission> others = EnumSet.noneOf(PosixFilePermission.class);
        others.addAll(rights);
        others.removeAll(PosixFilePermissions.fromString("rwx------"));
        if (!others.isEmpty()) {
            throw new IOException(
                    file
                            + " holds a private key but others may read or change it ("
                            + PosixFilePermissions.toString(rights)
                            + "); take their rights away with chmod 600, or delete it to get a new"
                            + " identity");
        }
    }

    private static boolean isPosix(Path path) throws IOException {
        return Files.getFileStore(path).supportsFileAttributeView("posix");
    }

    private static <T> T need(Path file, @Nullable T part, String label) throws IOException {
        if (part == null) {
            throw new IOException("no " + label + " block in " + file.getFileName());
        }
        return part;
    }
}
